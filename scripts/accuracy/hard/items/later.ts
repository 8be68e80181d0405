import { earliest, type Item } from "../scene.js";

/** What happens at places that the front has passed, often brighter than the front. */
export const LATER: readonly Item[] = [
  {
    name: "glints",
    inStill: true,
    mayRaise: ["ambiguous-front"],
    add(scene) {
      const { random, take } = scene;
      const may = earliest(scene);
      const glints = Array.from({ length: Math.round(random.logUniform(5, 60)) }, () => {
        const p = random.uniform(0, take.along);
        const life = random.logUniform(1, 6);
        return {
          p,
          r: random.uniform(0, take.across),
          radius: random.uniform(0.8, 3),
          size: random.uniform(1, 4) * take.step,
          begin: random.uniform(may(p) + 2, Math.max(may(p) + 3, take.frames)),
          life,
        };
      });
      addSpots(
        scene.layers,
        take.frames,
        glints.map(
          ({ begin, life, ...spot }) =>
            (i) =>
              i >= begin && i < begin + life ? spot : null,
        ),
      );
    },
  },
  {
    name: "fragments",
    inStill: true,
    mayRaise: ["ambiguous-front", "several-fronts"],
    add(scene) {
      const { random, take } = scene;
      const may = earliest(scene);
      const speed = scene.still ? random.logUniform(0.3, 20) : take.pixelsPerFrame;
      const fragments = Array.from({ length: random.integer(3, 12) }, () => {
        const begin = random.uniform(may(0), Math.max(may(0) + 5, take.frames * 0.9));
        // Behind the front, and never faster than it along the path.
        const p = random.uniform(0, Math.min(take.along, scene.still ? take.along : frontAt(begin) - 5));
        return {
          begin,
          p,
          r: random.uniform(0, take.across),
          alongPerFrame: speed * random.uniform(-1.5, 0.8),
          acrossPerFrame: (random.normal() * take.across) / 30,
          radius: random.uniform(0.8, 2.5),
          size: random.uniform(1, 4) * take.step,
        };
      });
      addSpots(
        scene.layers,
        take.frames,
        fragments.map(({ begin, p, r, alongPerFrame, acrossPerFrame, radius, size }) => (i) => {
          const age = i - begin;
          return age < 0 ? null : { p: p + alongPerFrame * age, r: r + acrossPerFrame * age, radius, size };
        }),
      );
      function frontAt(i: number): number {
        return Math.max(5, take.front[Math.min(take.frames - 1, Math.max(0, Math.floor(i)))]);
      }
    },
  },
  {
    name: "secondary-cracks",
    mayRaise: ["ambiguous-front"],
    add(scene) {
      const { random, take } = scene;
      const may = earliest(scene);
      const cracks = Array.from({ length: random.integer(2, 8) }, () => {
        const p = random.uniform(0, take.along);
        return {
          p,
          slant: random.normal() * 0.3,
          sigma: random.uniform(1, 3) / 2.355,
          size: random.uniform(0.5, 2) * random.pick([1, -1] as const) * take.step,
          begin: random.uniform(may(p) + 3, Math.max(may(p) + 4, take.frames)),
        };
      });
      scene.layers.push((i, r, p) => {
        let sum = 0;
        for (const crack of cracks) {
          const aside = p - crack.p - crack.slant * (r - take.across / 2);
          if (i >= crack.begin && Math.abs(aside) < 5 * crack.sigma)
            sum += crack.size * Math.exp(-0.5 * (aside / crack.sigma) ** 2);
        }
        return sum;
      });
    },
  },
];

interface Spot {
  readonly p: number;
  readonly r: number;
  readonly radius: number;
  readonly size: number;
}

/** Adds round spots, each given by frame, as one layer. */
function addSpots(
  layers: ((i: number, r: number, p: number) => number)[],
  frames: number,
  spots: readonly ((i: number) => Spot | null)[],
): void {
  const inFrame = Array.from({ length: frames }, (_, i) =>
    spots.flatMap((spot) => {
      const now = spot(i);
      return now ? [now] : [];
    }),
  );
  layers.push((i, r, p) => {
    let sum = 0;
    for (const spot of inFrame[i]) {
      const square = ((p - spot.p) ** 2 + (r - spot.r) ** 2) / spot.radius ** 2;
      if (square < 25) sum += spot.size * Math.exp(-square / 2);
    }
    return sum;
  });
}
