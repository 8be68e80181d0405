// Loaded before a script (node --import): when the process ends, writes what it used, as JSON, to the file that USED_FILE names: its own peak
// resident memory in bytes (the kernel's figure for a finished child would hold that of its parent, too), and the processor time in seconds of it and of the
// processes that it started and saw end. Those say nothing themselves.
import { readFileSync, writeFileSync } from "node:fs";

/** Of /proc/PID/stat (common practice, no source: it is 100 on every Linux that Node runs on). */
const TICKS_PER_SECOND = 100;
/** Places of user and system time, own and of children, after the name. */
const TIMES = [11, 12, 13, 14];

if (!process.send)
  process.on("exit", () => {
    const kilobytes = /^VmHWM:\s+(\d+) kB$/m.exec(readFileSync("/proc/self/status", "utf8"))[1];
    const afterName = readFileSync("/proc/self/stat", "utf8").split(") ").at(-1).split(" ");
    const ticks = TIMES.reduce((sum, place) => sum + Number(afterName[place]), 0);
    const used = { peakBytes: 1024 * Number(kilobytes), processorSeconds: ticks / TICKS_PER_SECOND };
    writeFileSync(process.env.USED_FILE, JSON.stringify(used));
  });
