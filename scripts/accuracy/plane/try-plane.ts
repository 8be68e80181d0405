import { fileURLToPath } from "node:url";
import { type ArrivalMap, arrivalMap, frontShape, localMotion, type Measured } from "@frontpace/arrival";
import { measureTake } from "@frontpace/take";
import { inParallel, serveJobs } from "../in-parallel.js";
import { type Case, drawPlane, type PlaneTake } from "./draw-plane.js";
import { renderPlane } from "./render-plane.js";

/** Student's factor of some 50 degrees of freedom. */
const TWO_SIDED = 2.01;

export interface PlaneJob {
  readonly kind: Case;
  readonly seed: number;
}

/** An error, and the half-width of the 95 % interval that was given with it. */
export interface Miss {
  readonly error: number;
  readonly halfWidth: number;
}

export interface PlaneOutcome extends PlaneJob {
  readonly shape: string;
  readonly reason: string;
  /** Whether the shape is the true one. */
  readonly isRight: boolean;
  /** Relative. */
  readonly speed: Miss | null;
  /** Degrees. */
  readonly angle: Miss | null;
  /** Of a power law. */
  readonly exponent: Miss | null;
  /** px, of x and of y. */
  readonly origin: readonly Miss[];
}

export async function tryPlane({ kind, seed }: PlaneJob): Promise<PlaneOutcome> {
  const take = drawPlane(kind, seed);
  if (take.front.shape === "power") return tryPower({ kind, seed }, take, take.front);
  if (kind.startsWith("faint") && take.front.shape === "straight")
    return tryFaint({ kind, seed }, take, take.front);
  const map = await arrivalMap(renderPlane(take));
  const found = frontShape(map);
  const { front } = take;
  const { shape, reason, straight, circle } = found;
  const base = { kind, seed, shape, reason, speed: null, angle: null, exponent: null, origin: [] };
  if (front.shape === "still") return { ...base, isRight: shape === "no-front" };
  if (front.shape === "halves")
    return { ...base, isRight: shape !== "no-front" && shape !== "circle", ...halves(map, take) };
  const isRight = shape === front.shape;
  if (front.shape === "straight" && straight) {
    const degrees = straight.angleDegrees.value - (front.angle * 180) / Math.PI;
    return {
      ...base,
      isRight,
      speed: relative(straight.speedPixelsPerFrame, front.speed),
      angle: {
        error: degrees - 360 * Math.round(degrees / 360),
        halfWidth: straight.angleDegrees.expandedUncertainty,
      },
    };
  }
  if (front.shape === "circle" && circle) {
    return {
      ...base,
      isRight,
      speed: relative(circle.speedPixelsPerFrame, front.speed),
      origin: [0, 1].map((k) => ({
        error: circle.origin[k] - front.origin[k],
        halfWidth: circle.originUncertainty?.[k].expandedUncertainty ?? Number.NaN,
      })),
    };
  }
  return { ...base, isRight };
}

const perPixel = { rateHz: 1, rateUncertaintyHz: 0, metresPerPixel: 1, metresPerPixelUncertainty: 0 };

/** A faint straight front, by the command's own way to its speed: the map says along what it is followed, and where it shows no shape the
 *  front's angle in the tracker does. */
async function tryFaint(
  job: PlaneJob,
  take: PlaneTake,
  front: Extract<PlaneTake["front"], { shape: "straight" }>,
): Promise<PlaneOutcome> {
  const { result } = await measureTake({ frames: renderPlane(take) }, perPixel);
  const { speed, shape, notFound } = result;
  return {
    ...job,
    shape: shape?.name ?? "none",
    reason: notFound?.message ?? shape?.reason ?? "",
    isRight: speed !== null,
    speed: speed && {
      error: speed.value / front.speed - 1,
      halfWidth: speed.expandedUncertainty / front.speed,
    },
    angle: null,
    exponent: null,
    origin: [],
  };
}

/** A law of the radius, by the command's own way to it: shape, origin, radii frame by frame, the model. */
async function tryPower(
  job: PlaneJob,
  take: PlaneTake,
  front: Extract<PlaneTake["front"], { shape: "power" }>,
): Promise<PlaneOutcome> {
  const { result } = await measureTake({ frames: renderPlane(take) }, { ...perPixel, model: "power-law" });
  const { circle, name = "none", reason = "" } = result.shape ?? {};
  const { exponent } = result.model?.parameters ?? {};
  return {
    ...job,
    shape: name,
    reason: result.notFound?.message ?? reason,
    isRight: name === "circle" && exponent !== undefined,
    speed: null,
    angle: null,
    exponent: exponent
      ? { error: exponent.value - front.exponent, halfWidth: TWO_SIDED * exponent.standardUncertainty }
      : null,
    origin: [0, 1].flatMap((k) =>
      circle
        ? {
            error: circle.origin[k] - front.origin[k],
            halfWidth: TWO_SIDED * (circle.originUncertainty?.[k] ?? Number.NaN),
          }
        : [],
    ),
  };
}

function relative({ value, expandedUncertainty }: Measured, truth: number): Miss {
  return { error: value / truth - 1, halfWidth: expandedUncertainty / truth };
}

/** The larger error of the two sides: mean slowness of the cells whose planes do not reach across the border. */
function halves(map: ArrivalMap, { front, columns }: PlaneTake): { speed: Miss | null } {
  if (front.shape !== "halves") return { speed: null };
  const { speed } = localMotion(map);
  const zone = 4 * map.cell;
  const errors = front.speeds.map((truth, side) => {
    let sum = 0;
    let cells = 0;
    for (let i = 0; i < speed.length; i++) {
      const x = ((i % map.columns) + 0.5) * map.cell - 0.5 - columns / 2;
      if (Number.isNaN(speed[i]) || (side === 0 ? x > -zone : x < zone)) continue;
      sum += 1 / speed[i];
      cells++;
    }
    return cells / sum / truth - 1;
  });
  const [error] = errors.sort((a, b) => Math.abs(b) - Math.abs(a));
  return { speed: { error, halfWidth: Number.NaN } };
}

export function tryPlanes(jobs: readonly PlaneJob[]): Promise<PlaneOutcome[]> {
  return inParallel(fileURLToPath(import.meta.url), jobs);
}

serveJobs(fileURLToPath(import.meta.url), tryPlane);
