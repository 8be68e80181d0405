#!/usr/bin/env node
// Stands here before the build does, so that an installation can link it.
import module from "node:module";

// From Node 22.1 on: what was compiled once need not be compiled again.
module.enableCompileCache?.();
await import("../dist/bundle/main.js");
