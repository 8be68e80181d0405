#!/usr/bin/env node
// Stands here before the build does, so that an installation can link it.
import "../dist/main.js";
