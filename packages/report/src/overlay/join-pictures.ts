/** Pictures that follow each other in one file. */
export interface JoinedPictures {
  /** px */
  readonly width: number;
  readonly height: number;
  /** Row-major 8-bit RGB, one picture behind the other. */
  readonly pictures: Uint8Array;
  /** Of playback, > 0. GIF counts in hundredths of a second, and players take less than two of these for ten. */
  readonly framesPerSecond: number;
}

/** Pictures as an animation that runs on and on.
 *  @returns a WebP or GIF file */
export async function joinPictures(
  { width, height, pictures, framesPerSecond }: JoinedPictures,
  kind: "webp" | "gif",
): Promise<Uint8Array> {
  const count = pictures.length / (3 * width * height);
  if (!(Number.isSafeInteger(count) && count >= 1))
    throw new RangeError(
      `pictures must hold whole pictures of 3 x ${width} x ${height} bytes, got ${pictures.length}`,
    );
  const { default: sharp } = await import("sharp");
  const tick = kind === "gif" ? 10 : 1;
  const delay = Array<number>(count).fill(Math.max(1, Math.round(1000 / framesPerSecond / tick)) * tick);
  const joined = sharp(pictures, {
    raw: { width, height: height * count, channels: 3, pageHeight: height },
    limitInputPixels: false,
  });
  const file = kind === "gif" ? joined.gif({ loop: 0, delay }) : joined.webp({ loop: 0, delay, quality: 80 });
  return new Uint8Array(await file.toBuffer());
}
