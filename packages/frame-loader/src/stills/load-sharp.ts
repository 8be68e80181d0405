type Sharp = typeof import("sharp")["default"];

let loading: Promise<Sharp> | undefined;

/** The decoder, loaded on first use, since loading takes tens of milliseconds. Its cache of results, which is
 *  shared by the whole process and goes by file name, is turned off: it gave the old samples of an interlaced
 *  PNG that had been written anew. */
export function loadSharp(): Promise<Sharp> {
  loading ??= import("sharp").then(({ default: sharp }) => {
    sharp.cache(false);
    return sharp;
  });
  return loading;
}
