/** How a published value came here: read where it stands, read where another quotes it, or remembered. */
export type SourceStatus = "read" | "secondary" | "memory";

/** What was measured: the highest speed of a crack seen, or of the front of shattering in prestressed glass. */
export interface CrackSpeed {
  readonly what: string;
  /** m/s */
  readonly low: number;
  readonly high: number;
  readonly source: string;
  readonly status: SourceStatus;
}

/** SI units. */
export type Elastic =
  | { readonly youngsModulus: number; readonly density: number; readonly poissonRatio: number }
  | { readonly longitudinal: number; readonly shear: number };

export interface Material {
  readonly name: string;
  readonly describes: string;
  /** Elastic constants, or measured bulk speeds, from which the speeds of waves are computed; null where none were published of
   *  the very glass in which a crack was timed. */
  readonly elastic: Elastic | null;
  /** Of the constants; where there are none, of the crack. */
  readonly elasticSource: string;
  readonly elasticStatus: SourceStatus;
  readonly crackSpeeds: readonly CrackSpeed[];
}

const HANDBOOK =
  "CRC Handbook of Chemistry and Physics, section 14, Speed of Sound in Various Media, Table 1";
const ASTM = "ASTM E494, Table X3.1, Acoustic Velocity in Engineering Materials";
const CHAUDHRI = "M. M. Chaudhri, Materials Science Forum 662 (2011) 95-104";
const SCHARDIN =
  "H. Schardin, Velocity effects in fracture, in Averbach et al. (eds), Fracture (1959) 297-330";

/** The physics table. Copies of such tables differ by 1-3 %. Sources and status stand beside every value; where the values were read is
 *  in the published files that the tests hold it against. */
export const materials: readonly Material[] = [
  {
    name: "soda-lime-glass",
    describes: "float or plate glass, annealed or toughened",
    elastic: { youngsModulus: 70e9, density: 2500, poissonRatio: 0.2 },
    elasticSource: "EN 572-1, basic soda-lime silicate glass, as quoted by a glass maker",
    elasticStatus: "secondary",
    crackSpeeds: [
      {
        what: "fracture wave through drops of toughened glass",
        low: 1600,
        high: 1800,
        source: CHAUDHRI,
        status: "read",
      },
      {
        what: "fracture front in tempered plates",
        low: 1466,
        high: 1466,
        source: "J. H. Nielsen, J. F. Olesen, H. Stang, Experimental Mechanics 49 (2009) 855-870",
        status: "memory",
      },
      {
        what: "highest speed of a crack",
        low: 1580,
        high: 1580,
        source: "F. P. Bowden et al., Nature 216 (1967) 38",
        status: "memory",
      },
      { what: "highest speed of a crack", low: 1500, high: 1550, source: SCHARDIN, status: "memory" },
    ],
  },
  {
    name: "fused-silica",
    describes: "fused silica",
    elastic: { longitudinal: 5968, shear: 3764 },
    elasticSource: HANDBOOK,
    elasticStatus: "secondary",
    crackSpeeds: [
      { what: "highest speed of a crack", low: 2155, high: 2200, source: SCHARDIN, status: "memory" },
    ],
  },
  {
    name: "borosilicate-glass",
    describes: "borosilicate glass of low expansion",
    elastic: { longitudinal: 5640, shear: 3280 },
    elasticSource: HANDBOOK,
    elasticStatus: "secondary",
    crackSpeeds: [],
  },
  {
    name: "heavy-silicate-flint-glass",
    describes: "heavy silicate flint, a lead glass",
    elastic: { longitudinal: 3980, shear: 2380 },
    elasticSource: HANDBOOK,
    elasticStatus: "secondary",
    crackSpeeds: [
      {
        what: "highest speed of a crack in heavy flint",
        low: 960,
        high: 1000,
        source: SCHARDIN,
        status: "memory",
      },
    ],
  },
  {
    name: "lead-oxide-glass",
    describes:
      "a lead-oxide glass whose longitudinal waves ran at 4800 m/s; it is not the heavy silicate flint",
    elastic: null,
    elasticSource: CHAUDHRI,
    elasticStatus: "read",
    crackSpeeds: [
      {
        what: "fracture wave through drops of toughened glass",
        low: 1200,
        high: 1400,
        source: CHAUDHRI,
        status: "read",
      },
    ],
  },
  {
    name: "acrylic",
    describes: "acrylic glass (PMMA)",
    elastic: { longitudinal: 2680, shear: 1100 },
    elasticSource: HANDBOOK,
    elasticStatus: "secondary",
    crackSpeeds: [],
  },
  {
    name: "aluminium",
    describes: "aluminium, rolled",
    elastic: { longitudinal: 6420, shear: 3040 },
    elasticSource: HANDBOOK,
    elasticStatus: "read",
    crackSpeeds: [],
  },
  {
    name: "iron",
    describes: "iron",
    elastic: { longitudinal: 5960, shear: 3240 },
    elasticSource: HANDBOOK,
    elasticStatus: "read",
    crackSpeeds: [],
  },
  {
    name: "copper",
    describes: "copper, annealed",
    elastic: { longitudinal: 4760, shear: 2325 },
    elasticSource: HANDBOOK,
    elasticStatus: "read",
    crackSpeeds: [],
  },
  wavesAlone("rolled-copper", "copper, rolled", [5010, 2270], HANDBOOK, "read"),
  wavesAlone("mild-steel", "mild steel", [5960, 3235], HANDBOOK),
  wavesAlone("stainless-steel", "stainless steel, 347", [5790, 3100], HANDBOOK),
  wavesAlone("stainless-steel-410", "stainless steel, 410", [5900, 3300], ASTM),
  wavesAlone("titanium", "titanium", [6070, 3125], HANDBOOK),
  wavesAlone("tungsten", "tungsten, annealed", [5220, 2890], HANDBOOK),
  wavesAlone("brass", "brass", [4370, 2100], ASTM),
  wavesAlone("nylon", "nylon 6-6", [2620, 1070], HANDBOOK),
  wavesAlone("polyethylene", "polyethylene", [1950, 540], HANDBOOK),
];

/** A crack that was seen at a share of the Rayleigh speed, where neither that nor the kind of glass is known better. */
export const crackShares: readonly (Pick<CrackSpeed, "what" | "source" | "status"> & {
  readonly shareOfRayleigh: number;
})[] = [
  {
    what: "thin strengthened glass, the highest of crack fronts under biaxial bending",
    shareOfRayleigh: 0.76,
    source: "Journal of Non-Crystalline Solids (2014), 6 pages (the page that was read names no authors)",
    status: "read",
  },
];

/** A material of which the table has no speed of cracks.
 *  @param speeds  longitudinal and shear, m/s */
function wavesAlone(
  name: string,
  describes: string,
  [longitudinal, shear]: readonly [number, number],
  elasticSource: string,
  elasticStatus: SourceStatus = "secondary",
): Material {
  return {
    name,
    describes,
    elastic: { longitudinal, shear },
    elasticSource,
    elasticStatus,
    crackSpeeds: [],
  };
}
