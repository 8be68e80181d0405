/** What a batch survives: `pnpm faults [--kills 25] [--takes 6] [--seed 1]`. Invented takes are measured once undisturbed; then the batch is
 *  killed at random moments, meets a frame that is cut short, a take that is taken away, permissions that are revoked and a full disk. Each time it
 *  is run again, and every byte that it leaves has to be that of the undisturbed run. Exits 1 where one is not. */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { drill } from "./drill.js";

const { values } = parseArgs({
  options: {
    kills: { type: "string", default: "25" },
    takes: { type: "string", default: "6" },
    seed: { type: "string", default: "1" },
  },
});
const folder = await mkdtemp(join(tmpdir(), "frontpace-faults-"));
try {
  const drilled = await drill({
    folder,
    takes: Number(values.takes),
    kills: Number(values.kills),
    seed: Number(values.seed),
  });
  for (const { fault, wrong, why } of drilled)
    console.log(
      `${fault}: ${wrong === null ? `not tried, ${why}` : wrong.length === 0 ? "as undisturbed" : wrong.join("; ")}`,
    );
  const failed = drilled.filter(({ wrong }) => wrong !== null && wrong.length > 0).length;
  const tried = drilled.filter(({ wrong }) => wrong !== null).length;
  console.log(`${tried} faults tried, ${failed} left something else behind`);
  if (failed > 0) process.exitCode = 1;
} finally {
  await rm(folder, { recursive: true, force: true });
}
