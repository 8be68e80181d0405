import { readFileSync } from "node:fs";
import { join } from "node:path";
import { type OpenFramesOptions, parseRawLayout } from "../../src/index.js";

const FOLDER = join(import.meta.dirname, "../fixtures/containers");
const TYPES = { uint8: Uint8Array, uint16: Uint16Array, float32: Float32Array };

/** A file of frames made by scripts/make-container-fixtures.py, and what an independent decoder found in it. */
export interface ContainerFixture {
  readonly name: string;
  readonly path: string;
  /** What opens it. */
  readonly options: OpenFramesOptions;
  /** Which of the sets of samples it holds. */
  readonly samples: string;
  readonly rows: number;
  readonly columns: number;
  readonly colour: boolean;
  /** Per frame, as they are stored; of colour three for a pixel. */
  readonly frames: readonly (Uint8Array | Uint16Array | Float32Array)[];
  /** SHA-256 of all samples, least significant byte first, from the independent decoder. */
  readonly sha256: string;
  /** Of those that are cut short in the tests: bytes at which a part of the file begins or ends. */
  readonly marks?: readonly number[];
  /** Of the same, for each frame: as many bytes as it takes for this frame and all before it to be there. */
  readonly whole?: readonly number[];
}

interface Expected {
  readonly samples: Record<
    string,
    { readonly shape: [number, number, number]; readonly type: keyof typeof TYPES }
  >;
  readonly files: Record<
    string,
    { readonly samples: string; readonly raw?: string; readonly sha256: string }
  >;
}

const expected: Expected = JSON.parse(readFileSync(join(FOLDER, "expected.json"), "utf8"));

export const containerFixtures: readonly ContainerFixture[] = Object.entries(expected.files).map(
  ([name, { samples, raw, ...found }]) => {
    const { shape, type } = expected.samples[samples];
    const [count, rows, columns] = shape;
    const colour = samples.startsWith("colour");
    const bytes = Uint8Array.from(readFileSync(join(FOLDER, `${samples}.bin`)));
    const all = new TYPES[type](bytes.buffer);
    const size = rows * columns * (colour ? 3 : 1);
    return {
      name,
      path: fixturePath(name),
      options: raw === undefined ? {} : { raw: parseRawLayout(raw) as NonNullable<OpenFramesOptions["raw"]> },
      samples,
      rows,
      columns,
      colour,
      frames: Array.from({ length: count }, (_, k) => all.slice(k * size, (k + 1) * size)),
      ...found,
    };
  },
);

export function fixturePath(name: string): string {
  return join(FOLDER, name);
}

/** The fixture of this name. */
export function fixture(name: string): ContainerFixture {
  const found = containerFixtures.find((one) => one.name === name);
  if (!found) throw new Error(`no fixture ${name}`);
  return found;
}
