import { availableParallelism, cpus, loadavg, totalmem, type } from "node:os";

/** The machine that the figures were seen on. */
export function describeMachine(): string {
  const [{ model }] = cpus();
  const memory = `${(totalmem() / 1e9).toFixed(0)} GB`;
  return `${type()}, ${availableParallelism()} processors (${model.trim()}), ${memory}, Node ${process.version}, load ${loadavg()[0].toFixed(1)}`;
}
