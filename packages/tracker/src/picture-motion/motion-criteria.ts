/** What a movement of the picture, along the path or across it, must meet to be believed. */

/** Registered to a fraction of a pixel. */
export const LEAST_SURE_PIXELS = 0.25;
/** Noise laid over noise finds places where it fits, and so does the foot of a front's own ramp; then few frames do. */
export const LEAST_PLACED = 0.5;
export const FEWEST_PLACED = 6;
/** The texture explains this many times what it leaves, or the pixels change by themselves. */
export const LEAST_EXPLAINED = 1;
/** Part of what its shifts promise that a moving texture must explain beyond one at rest. Beyond the length of its grain a
 *  shift changes the picture no further, so that far shifts promise too much. */
export const LEAST_GAINED = 0.25;
/** And in each frame, where frames laid still over each other show no texture: the best of some ten independent places to
 *  lay noise over noise gains 2·ln 10 of its variances by chance, that is 4.6, and a little more is asked for. */
export const LEAST_GAINED_IN_FRAME = 6;
/** Samples alternate between the two halves of the texture in runs as long as it is alike, px. */
export const HALF_RUN = 8;
/** Lags at which neighbouring samples are looked at for what they share. */
export const MOST_LAGS = 4;
