/** The fitted line, position in px against frame number. */
export interface PictureLine {
  /** Position at frame number 0, px. */
  readonly interceptPixels: number;
  readonly slopePixelsPerFrame: number;
  /** First and last frame number for which the line holds; it is drawn between them. */
  readonly firstFrame: number;
  readonly lastFrame: number;
}

/** The front's position in one frame. */
export interface StreakPoint {
  readonly frame: number;
  /** Along the path, px. */
  readonly positionPixels: number;
  /** k = 1, px. */
  readonly standardUncertaintyPixels: number;
  /** False: the point was rejected and did not shape the line. */
  readonly used: boolean;
}

/** What `drawStreak` draws: brightness (or another quantity) along the path, frame after frame, and what was read from
 *  it. */
export interface StreakPicture {
  /** Brightness, or what `quantity` names, row-major (frames, positions); a value that is not finite is a missing sample. */
  readonly data: Float32Array | Float64Array;
  /** What the grey levels stand for, as the key calls it. Default: brightness. */
  readonly quantity?: string;
  /** [frames, positions], each >= 1. */
  readonly shape: readonly [number, number];
  /** Number of each frame, or its time counted in frames; strictly increasing. Whole numbers that are left out leave a gap. */
  readonly frameNumbers: readonly number[];
  /** Position of sample 0 along the path and distance between samples, px; step > 0. */
  readonly positionsPixels: { readonly first: number; readonly step: number };
  /** Absent where no line was found. */
  readonly line?: PictureLine;
  /** What was fitted, in words. Default: fitted line. */
  readonly fitted?: string;
  /** The fitted line where it is bent in the picture, in place of `line`: at least two places of increasing frame. */
  readonly curve?: readonly { readonly frame: number; readonly positionPixels: number }[];
  readonly points?: readonly StreakPoint[];
  readonly title: string;
  readonly subtitle?: string;
}

/** Checks a picture before anything is drawn.
 *  @throws RangeError naming argument, rule and value
 */
export function checkStreakPicture(picture: StreakPicture): void {
  const { data, shape, frameNumbers, positionsPixels, line } = picture;
  for (const length of shape) {
    if (!Number.isInteger(length) || length < 1) {
      throw new RangeError(`shape must hold whole numbers >= 1, got [${shape.join(", ")}]`);
    }
  }
  const [frames, positions] = shape;
  if (data.length !== frames * positions) {
    throw new RangeError(
      `data must hold frames x positions = ${frames} x ${positions} = ${frames * positions} values, got ${data.length}`,
    );
  }
  if (frameNumbers.length !== frames) {
    throw new RangeError(
      `frameNumbers must hold one number per frame, ${frames}, got ${frameNumbers.length}`,
    );
  }
  frameNumbers.forEach((number, i) => {
    if (!Number.isFinite(number)) {
      throw new RangeError(`frameNumbers[${i}] must be finite, got ${number}`);
    }
    if (i > 0 && number <= frameNumbers[i - 1]) {
      throw new RangeError(
        `frameNumbers[${i}] must be > ${frameNumbers[i - 1]}, the one before, got ${number}`,
      );
    }
  });
  if (!Number.isFinite(positionsPixels.first)) {
    throw new RangeError(`positionsPixels.first must be finite, got ${positionsPixels.first}`);
  }
  if (!(Number.isFinite(positionsPixels.step) && positionsPixels.step > 0)) {
    throw new RangeError(`positionsPixels.step must be finite and > 0, got ${positionsPixels.step}`);
  }
  if (line !== undefined) checkLine(line);
  if (picture.curve !== undefined) checkCurve(picture.curve);
  for (const [i, point] of (picture.points ?? []).entries()) checkPoint(point, i);
}

/** @throws RangeError where a value of the line is not finite or its frames run backwards */
export function checkLine(line: PictureLine): void {
  for (const key of ["interceptPixels", "slopePixelsPerFrame", "firstFrame", "lastFrame"] as const) {
    if (!Number.isFinite(line[key])) throw new RangeError(`line.${key} must be finite, got ${line[key]}`);
  }
  if (line.lastFrame < line.firstFrame) {
    throw new RangeError(
      `line.lastFrame must be >= line.firstFrame ${line.firstFrame}, got ${line.lastFrame}`,
    );
  }
}

/** @throws RangeError where there are fewer than two places, or one is not finite */
export function checkCurve(curve: NonNullable<StreakPicture["curve"]>): void {
  if (curve.length < 2) throw new RangeError(`curve must hold at least two places, got ${curve.length}`);
  curve.forEach(({ frame, positionPixels }, i) => {
    if (!Number.isFinite(frame) || !Number.isFinite(positionPixels))
      throw new RangeError(`curve[${i}] must be finite, got frame ${frame} and ${positionPixels} px`);
  });
}

/** A used point needs a position; a rejected one may have none.
 *  @throws RangeError
 */
export function checkPoint(point: StreakPoint, index: number): void {
  if (!Number.isFinite(point.frame)) {
    throw new RangeError(`points[${index}].frame must be finite, got ${point.frame}`);
  }
  if (point.used && !Number.isFinite(point.positionPixels)) {
    throw new RangeError(
      `points[${index}].positionPixels must be finite where used, got ${point.positionPixels}`,
    );
  }
}
