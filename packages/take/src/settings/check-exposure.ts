import { TakeError } from "../take-error.js";

/** Checks that an exposure fits into the interval between two frames.
 *  @throws TakeError `exposure-too-long` */
export function checkExposure(exposureSeconds: number | undefined, rateHz: number | undefined): void {
  if (exposureSeconds === undefined || rateHz === undefined || exposureSeconds * rateHz <= 1 + 1e-9) return;
  const interval = Number((1 / rateHz).toPrecision(4));
  const message = `exposureSeconds must not be longer than the interval 1/rateHz = ${interval} s, got ${exposureSeconds}: check the unit, and the rate`;
  throw new TakeError("exposure-too-long", message, { key: "exposureSeconds", value: exposureSeconds });
}
