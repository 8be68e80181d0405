import { takeJsonSchema } from "@frontpace/take";
import type { Command } from "commander";
import { beforeAll, describe, expect, it } from "vitest";
import { optionKeys } from "../src/measure/measure-options.js";
import { planOptions } from "../src/plan/plan-options.js";
import { type Actions, buildProgram } from "../src/program.js";
import { capture, runCaptured } from "./capture.js";

const program = buildProgram(capture().context, {} as Actions);
const names = program.commands.map((command) => command.name());

describe.each([[], ...names.map((name) => [name])])("frontpace %s --help", (...command: string[]) => {
  let lines: readonly string[] = [];
  beforeAll(async () => {
    const { code, stdout } = await runCaptured([...command, "--help"]);
    expect(code).toBe(0);
    lines = stdout.split("\n");
  });

  it("stands in the order of a manual page: usage, options, one example, exit codes", () => {
    const places = [/^Usage: frontpace /, /^Options:$/, /^Example(, .*)?:?$/, /^Exit codes:$/].map((head) => {
      const at = lines.flatMap((line, i) => (head.test(line) ? [i] : []));
      expect(at, `lines like ${head}`).toHaveLength(1);
      return at[0];
    });
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(
      lines.filter((line) => /^ {2}\d+ +\S/.test(line)).map((line) => Number.parseInt(line, 10)),
    ).toEqual(expect.arrayContaining([0, 1, 2]));
  });

  it("has no line of more than 80 characters", () => {
    expect(lines.filter((line) => line.length > 80)).toEqual([]);
  });

  it("gives an example that the command line takes", async () => {
    const from = lines.findIndex((line) => line.startsWith("Example"));
    const typed = lines
      .slice(from, lines.indexOf("", from))
      .join("\n")
      .replace(/ \\\n +/g, " ");
    const examples = [...typed.matchAll(/^ {2}(?:eval "\$\()?frontpace ([^\n")]+)/gm)].map(([, argv]) =>
      argv.split(" "),
    );
    expect(examples.length).toBeGreaterThan(0);
    if (command.length > 0) expect(examples[0][0]).toBe(command[0]);
    for (const argv of examples) expect(await called(argv)).toBe(argv[0]);
  });
});

/** The command whose action the arguments reach. */
async function called(argv: readonly string[]): Promise<string> {
  let reached = "";
  const actions = Object.fromEntries(
    names.map((name) => [
      name,
      async () => {
        reached = name;
      },
    ]),
  );
  await buildProgram(capture().context, actions as unknown as Actions).parseAsync(argv, { from: "user" });
  return reached;
}

describe("choices", () => {
  const chosen = program.commands.flatMap((command: Command) =>
    command.options.flatMap(({ long, argChoices, description }) =>
      argChoices ? [{ command: command.name(), long, argChoices, description }] : [],
    ),
  );

  it.each(chosen)("of $command $long stand in its description", ({ argChoices, description }) => {
    expect(argChoices.length).toBeGreaterThan(1);
    for (const choice of argChoices) expect(description).toMatch(new RegExp(`\\b${choice}\\b`));
  });

  it("of measure are those of take.json", async () => {
    const { properties } = (await takeJsonSchema()) as { properties: Record<string, { enum?: string[] }> };
    const measure = program.commands.find((command) => command.name() === "measure")!;
    for (const option of measure.options.filter(({ argChoices }) => argChoices)) {
      const [key] = optionKeys[option.attributeName() as keyof typeof optionKeys];
      expect([...option.argChoices!].sort(), option.long).toEqual([...properties[key].enum!].sort());
    }
  });

  it("of plan are taken, and nothing else is", () => {
    const wish = { speed: "1500m/s", length: "300mm" };
    const plan = program.commands.find((command) => command.name() === "plan")!;
    for (const option of plan.options.filter(({ argChoices }) => argChoices)) {
      const name = option.attributeName();
      for (const choice of option.argChoices!)
        expect(() => planOptions({ ...wish, [name]: choice }), `${name} ${choice}`).not.toThrow();
      expect(() => planOptions({ ...wish, [name]: "neither" })).toThrow(/ or /);
    }
  });
});
