import { ticks } from "d3-array";
import { format } from "d3-format";
import { drawFrame, LEFT, WIDTH } from "../drawing/draw-frame.js";
import type { LegendEntry } from "../drawing/legend.js";
import { letterPen } from "../drawing/letter-pen.js";
import { svgElement, svgNumber } from "../drawing/svg.js";
import { INK } from "../drawing/text-pen.js";
import { type Rose, type RoseSector, roseSectors } from "./rose-sectors.js";

/** What `drawSpeedRose` draws: speed and direction of the front at many places. */
export interface SpeedRosePicture {
  /** m/s, shape (N,), NaN where nothing is said. */
  readonly speed: Float64Array;
  /** Degrees from x towards y (down), shape (N,): 0 to the right, 90 down the picture. */
  readonly direction: Float64Array;
  readonly title: string;
}

const RADIUS = 235;
const CENTRE = WIDTH / 2;
/** Room for the names of the directions. */
const ROOM = 44;
const PETAL = "#1b4f72";
const SPREAD = "#e07b00";
const GRID = "#c9d0d6";
const SIZE = 13;
/** Petals so few are written beside. */
const FEW = 3;

const NAMES: readonly (readonly [number, string])[] = [
  [0, "0° right"],
  [45, "45°"],
  [90, "90° down the picture"],
  [135, "135°"],
  [180, "180° left"],
  [-135, "-135°"],
  [-90, "-90° up the picture"],
  [-45, "-45°"],
];

/** Draws median speed against direction, a petal for each sector of direction in which the front ran somewhere, with the middle half of its speeds as a
 *  bar. Petals point where the front ran in the picture. The same picture gives the same text.
 *  @returns an SVG document with viewBox, title and description
 *  @throws RangeError where there are not as many directions as speeds */
export function drawSpeedRose({ speed, direction, title }: SpeedRosePicture): string {
  const rose = roseSectors(speed, direction);
  const head = {
    title,
    subtitle: inWords(rose),
    description: `Median speed of the front in sectors of direction, 0° to the right and 90° down the picture. ${inWords(rose)}.`,
    legend: legendOf(rose),
    right: WIDTH - LEFT,
  };
  return drawFrame(head, (top) => ({
    height: top + 2 * (RADIUS + ROOM) + 10,
    content: drawRose(rose, top + ROOM + RADIUS),
  }));
}

function drawRose({ sectors, widthDegrees }: Rose, centreY: number): string[] {
  const rings = ticks(0, Math.max(0, ...sectors.map(({ quartiles }) => quartiles[1])), 4).slice(1);
  const greatest = Math.max(0, ...sectors.map(({ quartiles }) => quartiles[1]), ...rings) || 1;
  const toRadius = (speed: number) => (speed / greatest) * RADIUS;
  const at = (degrees: number, radius: number): readonly [number, number] => [
    CENTRE + radius * Math.cos((degrees * Math.PI) / 180),
    centreY + radius * Math.sin((degrees * Math.PI) / 180),
  ];
  const number = format(".4~r");
  // In the direction that is farthest from all petals numbers stand on none of them.
  const free = freeDirection(sectors);
  return [
    svgElement("circle", { cx: CENTRE, cy: centreY, r: RADIUS, fill: "none", stroke: GRID }),
    ...rings.map((ring) =>
      svgElement("circle", { cx: CENTRE, cy: centreY, r: toRadius(ring), fill: "none", stroke: GRID }),
    ),
    ...NAMES.map(([degrees, name]) => drawSpoke(name, degrees, at)),
    ...sectors.map((sector) => drawPetal(sector, widthDegrees, toRadius, at)),
    ...rings.map((ring) => {
      const [x, y] = at(free, toRadius(ring));
      return onWhite(`${number(ring)} m/s`, x, y, "ring");
    }),
    ...(sectors.length <= FEW
      ? sectors.map((sector) => {
          const [x, y] = at(sector.angleDegrees, 0.55 * toRadius(sector.medianSpeed));
          return onWhite(`${number(sector.medianSpeed)} m/s at ${degreesText(sector)}`, x, y, "petal-text");
        })
      : []),
  ];
}

type At = (degrees: number, radius: number) => readonly [number, number];

function drawSpoke(name: string, degrees: number, at: At): string {
  const [[x1, y1], [x2, y2], [x, y]] = [at(degrees, 0), at(degrees, RADIUS), at(degrees, RADIUS + 14)];
  const sideways = Math.cos((degrees * Math.PI) / 180);
  const anchor = Math.abs(sideways) < 0.1 ? "middle" : sideways > 0 ? "start" : "end";
  return (
    svgElement("path", {
      d: `M${svgNumber(x1)} ${svgNumber(y1)}L${svgNumber(x2)} ${svgNumber(y2)}`,
      stroke: GRID,
    }) + letterPen.draw(name, { x, y: y + 0.36 * SIZE, size: SIZE, anchor })
  );
}

function drawPetal(
  { angleDegrees, medianSpeed, quartiles }: RoseSector,
  widthDegrees: number,
  toRadius: (speed: number) => number,
  at: At,
): string {
  const text = ([x, y]: readonly [number, number]) => `${svgNumber(x)} ${svgNumber(y)}`;
  const radius = toRadius(medianSpeed);
  const half = widthDegrees / 2;
  const wedge = `M${text(at(angleDegrees, 0))}L${text(at(angleDegrees - half, radius))}A${svgNumber(radius)} ${svgNumber(radius)} 0 0 1 ${text(at(angleDegrees + half, radius))}Z`;
  const [from, to] = quartiles.map(toRadius);
  const cap = (r: number) => `M${text(at(angleDegrees - 2, r))}L${text(at(angleDegrees + 2, r))}`;
  return svgElement(
    "g",
    { class: "petal" },
    svgElement("path", {
      d: wedge,
      fill: PETAL,
      "fill-opacity": 0.55,
      stroke: PETAL,
      "stroke-width": 1.2,
      "stroke-linejoin": "round",
    }),
    svgElement("path", {
      d: `M${text(at(angleDegrees, from))}L${text(at(angleDegrees, to))}${cap(from)}${cap(to)}`,
      fill: "none",
      stroke: SPREAD,
      "stroke-width": 2.2,
    }),
  );
}

/** A text about a point on a ground of its own. */
function onWhite(text: string, x: number, y: number, name: string): string {
  const width = letterPen.width(text, SIZE) + 6;
  return svgElement(
    "g",
    { class: name },
    svgElement("rect", {
      x: x - width / 2,
      y: y - 9,
      width,
      height: 18,
      rx: 3,
      fill: "#ffffff",
      "fill-opacity": 0.88,
    }),
    letterPen.draw(text, { x, y: y + 0.36 * SIZE, size: SIZE, anchor: "middle", fill: INK }),
  );
}

/** Between the named directions, the one whose nearest petal is farthest away. */
function freeDirection(sectors: readonly RoseSector[]): number {
  const apart = (one: number, other: number) => Math.abs(((one - other + 540) % 360) - 180);
  const nearest = (degrees: number) =>
    Math.min(360, ...sectors.map(({ angleDegrees }) => apart(degrees, angleDegrees)));
  return [-67.5, -22.5, 22.5, 67.5, 112.5, 157.5, -157.5, -112.5].reduce((best, degrees) =>
    nearest(degrees) > nearest(best) + 1e-9 ? degrees : best,
  );
}

function degreesText({ angleDegrees }: RoseSector): string {
  return `${Math.round(angleDegrees) || 0}°`;
}

function inWords({ sectors, cells }: Rose): string {
  const number = format(".4~r");
  if (sectors.length === 0) return "nowhere can anything be said of speed and direction";
  const fastest = sectors.reduce((best, sector) => (sector.medianSpeed > best.medianSpeed ? sector : best));
  const slowest = sectors.reduce((best, sector) => (sector.medianSpeed < best.medianSpeed ? sector : best));
  if (sectors.length === 1)
    return `${cells} cells, all but a few of which run towards ${degreesText(fastest)} at ${number(fastest.medianSpeed)} m/s`;
  return `${cells} cells; medians from ${number(slowest.medianSpeed)} m/s towards ${degreesText(slowest)} to ${number(fastest.medianSpeed)} m/s towards ${degreesText(fastest)}`;
}

/** A key explains what is drawn: of a rose without petals only what was left out. */
function legendOf({ sectors, widthDegrees, leftOut, cells }: Rose): LegendEntry[] {
  const omitted: LegendEntry[] =
    leftOut > 0
      ? [{ symbol: "", text: `left out: ${leftOut} of ${cells} cells, in sectors of too few` }]
      : [];
  if (sectors.length === 0) return omitted;
  return [
    {
      symbol: svgElement("rect", { x: -15, y: -6, width: 30, height: 12, fill: PETAL, "fill-opacity": 0.55 }),
      text: `length: median speed where the front ran that way, in sectors of ${widthDegrees}°`,
    },
    {
      symbol: svgElement("path", {
        d: "M-12 0H12M-12 -5V5M12 -5V5",
        stroke: SPREAD,
        "stroke-width": 2.2,
        fill: "none",
      }),
      text: "half of the speeds lie within",
    },
    ...omitted,
  ];
}
