import { withTake } from "../footage/with-take.js";
import { checkFindOptions } from "../schemas/check-keys.js";
import { settleSearch } from "../settings/settle-search.js";
import type { FindOptions, MeasureContext, TakeFrames, TakeSearch } from "../types.js";
import { searchFrames } from "./search-frames.js";
import { takeSearch } from "./take-search.js";

/** Where in a take something happens.
 *
 *  What the take is comes from `options` and from the take.json in its folder, or NAME.take.json beside its file; options win.
 *
 *  @param take  a folder of numbered stills, a file that holds frames, or an open sequence, which stays open
 *  @returns events strongest first, none where nothing was found, which is no error
 *  @throws TakeError, or the frame loader's error, each with a stable `code`; `signal.reason` when stopped */
export async function findInTake(
  take: string | { readonly frames: TakeFrames },
  options: FindOptions = {},
  context: MeasureContext = {},
): Promise<TakeSearch> {
  context.signal?.throwIfAborted();
  const checked = await checkFindOptions(options);
  return withTake(take, checked, context, async (frames, file) => {
    const settings = settleSearch(checked, file);
    const found = await searchFrames(frames, settings, context);
    return takeSearch(found, frames, settings, checked.frameStep ?? file?.frameStep ?? null);
  });
}
