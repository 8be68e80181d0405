import type { LeftOut } from "@frontpace/arrival";
import type { InPlane } from "../following/front-in-plane.js";
import type { Settings } from "../settings/settle.js";
import type { TakeResult } from "../types.js";

/** The shape as it stands in result.json. */
export function shapeRecord(
  { shape, along }: InPlane,
  { rateHz, metresPerPixel, origin }: Settings,
): NonNullable<TakeResult["shape"]> {
  const { straight, circle, circleFound, originContradicted, axes, candidates } = shape;
  // Of a circle whose speed changes the origin is that about which it was followed.
  const about = along.kind === "radius" && along.varying ? along.varying : circle;
  const toSpeed = metresPerPixel.value * rateHz.value;
  return {
    name: shape.shape,
    reason: shape.reason,
    measuredAlong: along.kind === "form" ? "path" : along.kind,
    cells: shape.cells,
    shareOfPicture: shape.share,
    effectiveCells: shape.effectiveCells,
    candidates: candidates.map(({ name, parameters, aicc, meanSquare, explained }) => ({
      name,
      parameters,
      aicc,
      residualFrames: Math.sqrt(meanSquare),
      explained,
    })),
    straight: straight && {
      speed: measured(straight.speedPixelsPerFrame, toSpeed),
      angleDegrees: measured(straight.angleDegrees),
    },
    ...(along.kind === "form" && {
      form: {
        speed: measured(along.rigid.speedPixelsPerFrame, toSpeed),
        angleDegrees: measured(along.rigid.angleDegrees),
      },
    }),
    circle: circle &&
      about && {
        origin: [about.origin[0], about.origin[1]],
        originUncertainty: uncertaintyOf(about.originUncertainty),
        originGiven: origin !== null,
        speed: measured(circle.speedPixelsPerFrame, toSpeed),
        ...(circleFound && {
          aboutFound: {
            origin: [circleFound.origin[0], circleFound.origin[1]],
            originUncertainty: uncertaintyOf(circleFound.originUncertainty),
            speed: measured(circleFound.speedPixelsPerFrame, toSpeed),
            contradicted: originContradicted,
          },
        }),
        ...(axes && {
          axes: {
            ratio: measured(axes.ratio),
            angleDegrees: axes.angleDegrees,
            differ: axes.differ,
            origin: [axes.origin[0], axes.origin[1]],
            originUncertainty: uncertaintyOf(axes.originUncertainty),
          },
        }),
      },
  };
}

function measured({ value, standardUncertainty }: LeftOut & { value: number }, scale = 1) {
  return { value: value * scale, standardUncertainty: finite(standardUncertainty * scale) };
}

function uncertaintyOf(origin: readonly [LeftOut, LeftOut] | null): [number | null, number | null] | null {
  return origin && [finite(origin[0].standardUncertainty), finite(origin[1].standardUncertainty)];
}

/** JSON has no infinity: what is not determined is null. */
function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}
