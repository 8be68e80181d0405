import { execFileSync, spawn, spawnSync } from "node:child_process";
import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { OVERLAY_KINDS } from "@frontpace/batch";
import { beforeAll, describe, expect, it } from "vitest";
import { temporaryFolder } from "../../take/test/render-take.js";
import { runCaptured } from "./capture.js";

const has = (program: string) => spawnSync(program, ["--version"]).status === 0;
const folder = await temporaryFolder();

beforeAll(async () => {
  await mkdir(join(folder, "tile 07"));
  await writeFile(join(folder, "tile.bin"), "");
  for (const shell of ["bash", "zsh", "fish"]) {
    const { code, stdout } = await runCaptured(["completion", shell]);
    expect(code).toBe(0);
    await writeFile(join(folder, `completion.${shell}`), stdout);
  }
  // The command itself says what it was called with, one argument a line.
  await writeFile(join(folder, "frontpace"), "#!/bin/sh\nprintf 'got<%s>\\n' \"$@\"\n", { mode: 0o755 });
});

/** Types what is given at an interactive shell on a terminal of its own.
 *  @param typed  one command line, with tabs
 *  @returns the arguments that the command got, and all that was shown from then on */
async function typedAt(shell: string, setup: string, typed: string) {
  const child = spawn("script", ["-qec", shell, "/dev/null"], {
    cwd: folder,
    env: { PATH: `${folder}:${process.env.PATH}`, HOME: folder, TERM: "dumb", LC_ALL: "C" },
    stdio: ["pipe", "pipe", "ignore"],
  });
  let seen = "";
  child.stdout.on("data", (part) => {
    seen += part;
  });
  const until = async (text: string) => {
    for (let k = 0; k < 400 && !seen.includes(text); k++)
      await new Promise((resolve) => setTimeout(resolve, 50));
    if (!seen.includes(text)) throw new Error(`${shell} did not show ${text}:\n${seen}`);
  };
  try {
    child.stdin.write(`${setup}; echo set"-"up\n`);
    await until("set-up");
    seen = "";
    child.stdin.write(`${typed}\n`);
    child.stdin.write('echo do"-"ne\n');
    await until("do-ne");
    // zsh takes the slash of a completed folder away where the line ends.
    const got = [...seen.matchAll(/got<(.*?)\/?>/g)].map(([, argument]) => argument);
    return { got, seen };
  } finally {
    child.stdin.end("exit\n");
  }
}

const onTerminal: Readonly<Record<string, readonly [string, string]>> = {
  bash: ["bash --norc --noprofile -i", "bind 'set show-all-if-ambiguous on'; . ./completion.bash"],
  zsh: [
    "zsh -f -i",
    "unsetopt zle_bracketed_paste; autoload -U compinit; compinit -u -D; . ./completion.zsh",
  ],
};

const cases: readonly (readonly [string, readonly string[]])[] = [
  ["frontpace me\t", ["measure"]],
  ["frontpace measure --rat\t1k", ["measure", "--rate", "1k"]],
  ["frontpace measure tile.b\t--pol\tbr\t", ["measure", "tile.bin", "--polarity", "bright"]],
  ["frontpace plan --out til\t", ["plan", "--out", "tile 07"]],
  ["frontpace completion z\t", ["completion", "zsh"]],
];

describe.each(Object.entries(onTerminal))(
  "on a terminal of %s (needs it, and script)",
  (shell, [command, setup]) => {
    it.skipIf(!has(shell) || !has("script")).each(cases)(`${shell}: %j is completed`, async (typed, got) => {
      expect((await typedAt(command, setup, typed)).got).toEqual(got);
    });

    it.skipIf(!has(shell) || !has("script"))(
      `${shell}: both options that begin alike are listed`,
      async () => {
        const { got, seen } = await typedAt(command, setup, "frontpace measure --ra\tte 1k");
        expect(got).toEqual(["measure", "--rate", "1k"]);
        expect(seen).toMatch(/--rate\s[\s\S]*--raw\s/);
      },
    );
  },
);

describe.skipIf(!has("fish"))("fish (needs it)", () => {
  const completions = (typed: string) =>
    execFileSync("fish", ["--no-config", "-c", 'source completion.fish; complete -C "$argv[1]"', typed], {
      cwd: folder,
      env: { PATH: process.env.PATH, HOME: folder },
      encoding: "utf8",
    })
      .split("\n")
      .filter((line) => line !== "")
      .map((line) => line.split("\t")[0]);

  it.each([
    ["frontpace me", ["measure"]],
    ["frontpace measure --ra", ["--rate", "--raw"]],
    ["frontpace measure --polarity ", ["bright", "dark"]],
    ["frontpace measure tile.b", ["tile.bin"]],
    ["frontpace plan --out ti", ["tile 07/"]],
    ["frontpace completion z", ["zsh"]],
    ["frontpace overlay --colour am", ["amber"]],
    ["frontpace measure --json bat", []],
  ])("completes %j", (typed, got) => {
    expect(completions(typed)).toEqual(got);
  });
});

describe.each(["bash", "zsh", "fish"])("the script for %s", (shell) => {
  it("names every command and every option that its help names", async () => {
    const { stdout: script } = await runCaptured(["completion", shell]);
    const { stdout: help } = await runCaptured(["--help"]);
    const commands = [...help.matchAll(/^ {2}([a-z]+) (?:\[|<)/gm)].map(([, name]) => name);
    expect(commands).toEqual(expect.arrayContaining(["measure", "batch", "completion"]));
    for (const command of commands) {
      expect(script).toMatch(new RegExp(`\\b${command}\\b`));
      const { stdout } = await runCaptured([command, "--help"]);
      for (const [, option] of stdout.matchAll(/^ {2}(?:-\w, )?--([a-z-]+)/gm))
        expect(script).toContain(option);
    }
  });

  it("knows the kinds of overlays that can be drawn", async () => {
    const { stdout: script } = await runCaptured(["completion", shell]);
    expect(script).toMatch(new RegExp(OVERLAY_KINDS.join(String.raw`(?: |\\n)`)));
  });

  it.skipIf(!has(shell))("is read without a fault (needs the shell)", () => {
    const { status, stderr } = spawnSync(shell, ["-n", join(folder, `completion.${shell}`)], {
      encoding: "utf8",
    });
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
  });
});

it("another shell is refused, and those there are said", async () => {
  const { code, stderr } = await runCaptured(["completion", "ksh"]);
  expect(code).toBe(2);
  expect(stderr).toContain("bash, zsh, fish");
});
