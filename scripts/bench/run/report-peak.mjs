// Loaded before a script (node --import): when the process ends, writes its peak resident memory in bytes to the file
// that PEAK_FILE names. The kernel's figure for a finished child would hold that of its parent, too. Processes that it started itself say nothing.
import { readFileSync, writeFileSync } from "node:fs";

if (!process.send)
  process.on("exit", () => {
    const kilobytes = /^VmHWM:\s+(\d+) kB$/m.exec(readFileSync("/proc/self/status", "utf8"))[1];
    writeFileSync(process.env.PEAK_FILE, String(1024 * Number(kilobytes)));
  });
