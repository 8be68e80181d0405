import { expect, it } from "vitest";
import { tryHard } from "../scripts/accuracy/hard/try-hard.js";

it("follows a front that wanders before a cloud along its own way, not a line that the mean across that way shows more surely", async () => {
  const trial = await tryHard({
    items: ["passing-cloud", "wander-walk"],
    seed: 72_000_107,
    still: false,
    beside: false,
  });
  expect(trial.status).toBe("measured");
  // The line runs by 2 % to a side, and its speed is 61 % less.
  expect(Math.abs(trial.error)).toBeLessThan(0.1);
  expect(Math.abs(trial.error)).toBeLessThan(3 * trial.standardUncertainty);
});
