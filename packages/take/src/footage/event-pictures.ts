import type { EventPicture, TakeFrames, TakeResult } from "../types.js";
import { frameSamples } from "./frame-samples.js";

/** The whole pictures of the frames that show an event, in their order. */
export async function eventPictures(
  frames: TakeFrames,
  event: NonNullable<TakeResult["event"]>,
  signal: AbortSignal | undefined,
): Promise<EventPicture[]> {
  const pictures: EventPicture[] = [];
  for (const { moment, frame } of event) {
    const index = frames.numbers.indexOf(frame);
    const [data] = await frameSamples(frames, index, index + 1, signal);
    pictures.push({ moment, frame, data, shape: [frames.rows, frames.columns] });
  }
  return pictures;
}
