import { execFileSync } from "node:child_process";
import { chmod, cp, mkdir, readdir, rename, rm, stat, truncate, utimes } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { randomFrom } from "../random.js";
import { differences, digests, type Ended, startBatch, writeDay } from "./bench-of-takes.js";
import { boundByModes } from "./bound-by-modes.js";

export interface DrillOptions {
  /** Empty, for takes and results. */
  readonly folder: string;
  readonly takes: number;
  readonly kills: number;
  readonly seed: number;
}

export interface Drilled {
  readonly fault: string;
  /** What was wrong afterwards; empty: nothing. null: it could not be tried here, and `why` says so. */
  readonly wrong: readonly string[] | null;
  readonly why?: string;
}

/** Room for the results of one take, not of all: one leaves some 200 kB. */
const SMALL_DISK = "300k";

/** Puts a batch through faults. After each it is run again, and every byte that it leaves has to be that of an undisturbed run. */
export async function drill({ folder, takes, kills, seed }: DrillOptions): Promise<Drilled[]> {
  const day = await writeDay(join(folder, "day"), takes);
  const reference = join(folder, "reference");
  const started = performance.now();
  const undisturbed = await startBatch(day, reference).end;
  const milliseconds = performance.now() - started;
  if (undisturbed.code !== 0)
    throw new Error(`the undisturbed run ended with ${undisturbed.code}: ${undisturbed.stderr}`);
  const expected = await digests(reference);

  /** What is wrong once a run after the fault is through. */
  const afterwards = async (out: string): Promise<string[]> => {
    const again = await startBatch(day, out).end;
    const ended =
      again.code === 0 ? [] : [`the run after it ended with ${again.code}: ${again.stdout}${again.stderr}`];
    return [...ended, ...differences(await digests(out), expected).map((name) => `${name} differs`)];
  };
  const aTake = join(day, "first-firing", "tile-0");
  const random = randomFrom(seed);
  const drilled: Drilled[] = [];
  const fault = async (name: string, work: (out: string) => Promise<string[]>) => {
    const out = join(folder, `out-${drilled.length}`);
    drilled.push({ fault: name, wrong: await work(out) });
    await rm(out, { recursive: true, force: true });
  };

  for (let k = 0; k < kills; k++) {
    const after = random.uniform(0, milliseconds);
    await fault(`killed after ${Math.round(after)} ms`, async (out) => {
      const { child, end } = startBatch(day, out);
      await wait(after);
      child.kill("SIGKILL");
      await end;
      return afterwards(out);
    });
  }

  await fault("a frame that is cut short", async (out) => {
    const frame = join(aTake, "tile_00012.png");
    const kept = join(folder, "kept.png");
    await startBatch(day, out).end;
    await cp(frame, kept);
    await truncate(frame, Math.floor((await stat(frame)).size / 2));
    await utimes(frame, 1e9, 1e9);
    const { code } = await startBatch(day, out).end;
    const wrong = [
      ...(code === 1 ? [] : [`ended with ${code}, not 1`]),
      ...(await readdir(join(out, "first-firing", "tile-0"))).map(
        (name) => `${name} of the damaged take is left`,
      ),
    ];
    await cp(kept, frame);
    return [...wrong, ...(await afterwards(out))];
  });

  await fault("a take that is taken away while it runs", async (out) => {
    const { end } = startBatch(day, out);
    await wait(milliseconds / 3);
    const away = join(folder, "away");
    await rename(aTake, away);
    await end;
    await rename(away, aTake);
    return afterwards(out);
  });

  const bound = await boundByModes(join(folder, "without-permissions"));
  /** @param run  takes a permission away and gives it back when the batch has ended
   *  @param isSaid  whether the batch has to say so: where it may be through before, only what is left behind counts */
  const revoked = async (
    name: string,
    isSaid: boolean,
    run: (out: string, before: readonly string[]) => Promise<Ended>,
  ) => {
    if (bound === null)
      drilled.push({ fault: name, wrong: null, why: "the modes of files do not hold for this user" });
    else
      await fault(name, async (out) => {
        const { code, stdout, stderr } = await run(out, bound);
        const isTold = code !== 0 && /permission|you may read/.test(stdout + stderr);
        const wrong = isTold || !isSaid ? [] : [`ended with ${code} and said ${stdout}${stderr}`];
        return [...wrong, ...(await afterwards(out))];
      });
  };
  for (const [name, path] of [
    ["a take that may not be read", aTake],
    ["a frame that may not be read", join(aTake, "tile_00012.png")],
  ])
    await revoked(name, true, (out, before) => withMode(path, 0, () => startBatch(day, out, [], before).end));
  await revoked("a take that may no longer be read while it runs", false, async (out, before) => {
    const { end } = startBatch(day, out, [], before);
    await wait(random.uniform(0, milliseconds));
    return withMode(aTake, 0, () => end);
  });
  await revoked("results that may no longer be written while it runs", true, async (out, before) => {
    const { child, end } = startBatch(day, out, ["--workers", "1"], before);
    await new Promise((resolve) => child.stdout?.once("data", resolve));
    return withMode(out, 0o555, () => end);
  });

  const disk = join(folder, "disk");
  await mkdir(disk);
  const refused = mounted(disk);
  if (refused !== null) drilled.push({ fault: "a full disk", wrong: null, why: refused });
  else
    try {
      const out = join(disk, "out");
      const { code } = await startBatch(day, out).end;
      const full = code === 1 ? [] : [`ended with ${code} on a full disk, not 1`];
      const torn = (await isWhole(out, expected)).map((name) => `${name} is half-written`);
      execFileSync("mount", ["-o", "remount,size=64m", disk]);
      drilled.push({ fault: "a full disk", wrong: [...full, ...torn, ...(await afterwards(out))] });
    } finally {
      execFileSync("umount", [disk]);
    }
  return drilled;
}

/** Works while a file or folder has other permissions. */
async function withMode<Found>(path: string, mode: number, work: () => Promise<Found>): Promise<Found> {
  const { mode: usual } = await stat(path);
  await chmod(path, mode);
  try {
    return await work();
  } finally {
    await chmod(path, usual);
  }
}

/** Files under their own names that are not what they would be in the end; the summary of what failed is another. */
async function isWhole(out: string, expected: Readonly<Record<string, string>>): Promise<string[]> {
  const found = await digests(out).catch(() => ({}));
  return differences(found, expected).filter((name) => name in found && !/(^|\/)(\.|summary\.)/.test(name));
}

/** @returns why there is no small disk, or null */
function mounted(folder: string): string | null {
  try {
    execFileSync("mount", ["-t", "tmpfs", "-o", `size=${SMALL_DISK}`, "frontpace", folder], {
      stdio: "pipe",
    });
    return null;
  } catch {
    return "a small disk cannot be mounted here";
  }
}
