import { TakeError } from "../take-error.js";

/** Waits for work on frames; samples that are no numbers are the fault of the frames, not of the program.
 *  @throws TakeError `samples-not-finite`; whatever else the work throws */
export async function finiteSamples<T>(work: Promise<T>): Promise<T> {
  try {
    return await work;
  } catch (error) {
    const isNotFinite = error instanceof RangeError && "code" in error && error.code === "samples-not-finite";
    throw isNotFinite ? new TakeError("samples-not-finite", error.message) : error;
  }
}
