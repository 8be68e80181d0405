/** Points counted together. */
const RUN = 32;

/** Sums of each run: of the weights, and of their products with the places about the run's middle and with what the reference line
 *  leaves. */
const SUMS = 6;

/** Votes of the same points for one line after another: each point's weight times 1 − (miss / tolerance)², no less than 0. Runs of
 *  points are known by what a reference line leaves of them. Where all of a run is within the tolerance of another line, its votes
 *  are a quadratic form of how far that is from the reference; where all of it is beyond, there are none. */
export class LineVotes {
  private readonly runs: number;
  /** Weight of each run and of all behind it. */
  private readonly open: Float64Array;
  /** Of each run: first and last place, least and most of what the reference leaves, and the sums. */
  private readonly first: Float64Array;
  private readonly last: Float64Array;
  private readonly least: Float64Array;
  private readonly most: Float64Array;
  private readonly sums: Float64Array;
  private intercept = 0;
  private slope = 0;
  private hasReference = false;

  /** @param x  shape (N,)
   *  @param y  shape (N,)
   *  @param weights  shape (N,)
   *  @param tolerance  > 0 */
  constructor(
    private readonly x: Float64Array,
    private readonly y: Float64Array,
    private readonly weights: Float64Array,
    private readonly tolerance: number,
  ) {
    this.runs = Math.ceil(x.length / RUN);
    this.open = new Float64Array(this.runs + 1);
    this.first = new Float64Array(this.runs).fill(Number.POSITIVE_INFINITY);
    this.last = new Float64Array(this.runs).fill(Number.NEGATIVE_INFINITY);
    this.least = new Float64Array(this.runs);
    this.most = new Float64Array(this.runs);
    this.sums = new Float64Array(this.runs * SUMS);
    for (let run = this.runs - 1; run >= 0; run--) {
      this.open[run] = this.open[run + 1];
      for (let k = run * RUN; k < this.endOf(run); k++) {
        this.open[run] += weights[k];
        this.first[run] = Math.min(this.first[run], x[k]);
        this.last[run] = Math.max(this.last[run], x[k]);
      }
    }
  }

  /** Holds others against this line from now on: the nearer they are the less there is to count. */
  refer(intercept: number, slope: number): void {
    this.intercept = intercept;
    this.slope = slope;
    this.hasReference = true;
    for (let run = 0; run < this.runs; run++) this.sumUp(run);
  }

  /** Votes for a line; counted no further than it takes to see that they are no more than `enough`. */
  of(intercept: number, slope: number, enough: number): number {
    const { open, runs, hasReference } = this;
    let votes = 0;
    for (let run = 0; run < runs && votes + open[run] > enough; run++)
      votes += hasReference ? this.ofRun(run, intercept, slope) : this.counted(run, intercept, slope);
    return votes;
  }

  private endOf(run: number): number {
    return Math.min((run + 1) * RUN, this.x.length);
  }

  private middleOf(run: number): number {
    return (this.first[run] + this.last[run]) / 2;
  }

  private ofRun(run: number, intercept: number, slope: number): number {
    const { sums, tolerance } = this;
    // How far the line is above the reference: at the middle of the run, at most from there to an end, and for each unit of x.
    const turn = slope - this.slope;
    const middle = intercept - this.intercept + turn * this.middleOf(run);
    const reach = Math.abs(turn) * ((this.last[run] - this.first[run]) / 2);
    const highest = this.most[run] - middle + reach;
    const lowest = this.least[run] - middle - reach;
    if (lowest >= tolerance || highest <= -tolerance) return 0;
    if (!(highest < tolerance && lowest > -tolerance)) return this.counted(run, intercept, slope);
    const at = run * SUMS;
    const left = sums[at + 5] - 2 * (middle * sums[at + 3] + turn * sums[at + 4]);
    const moved = middle * middle * sums[at] + 2 * middle * turn * sums[at + 1] + turn * turn * sums[at + 2];
    return sums[at] - (left + moved) / (tolerance * tolerance);
  }

  private counted(run: number, intercept: number, slope: number): number {
    const { x, y, weights, tolerance } = this;
    const end = this.endOf(run);
    let votes = 0;
    for (let k = run * RUN; k < end; k++) {
      const miss = (y[k] - intercept - slope * x[k]) / tolerance;
      if (miss > -1 && miss < 1) votes += (1 - miss * miss) * weights[k];
    }
    return votes;
  }

  private sumUp(run: number): void {
    const { x, y, weights, sums, intercept, slope } = this;
    const at = run * SUMS;
    const middle = this.middleOf(run);
    const end = this.endOf(run);
    let least = Number.POSITIVE_INFINITY;
    let most = Number.NEGATIVE_INFINITY;
    sums.fill(0, at, at + SUMS);
    for (let k = run * RUN; k < end; k++) {
      const weight = weights[k];
      const place = x[k] - middle;
      const left = y[k] - intercept - slope * x[k];
      least = Math.min(least, left);
      most = Math.max(most, left);
      sums[at] += weight;
      sums[at + 1] += weight * place;
      sums[at + 2] += weight * place * place;
      sums[at + 3] += weight * left;
      sums[at + 4] += weight * place * left;
      sums[at + 5] += weight * left * left;
    }
    this.least[run] = least;
    this.most[run] = most;
  }
}
