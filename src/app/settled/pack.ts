import type { Result } from '../core.ts';

/** A typed array as JSON: its kind, and its bytes (little endian) in base64. Float64 shapes travel as float32: they are for looking at, their figures stand beside them. */
interface Packed {
  readonly kind: keyof typeof KINDS;
  readonly base64: string;
}

const KINDS = { Uint8Array, Int8Array, Uint16Array, Uint32Array, Int32Array, Float32Array } as const;

type Packable = InstanceType<(typeof KINDS)[keyof typeof KINDS]>;

/** Results of one bag; they stand on one mesh and one drafted shape, which are written once. */
export interface PackedResults {
  /** SHA-256 of the bag file, hex: another file's results would be another bag's. */ readonly bag: string;
  /** Edge length of the mesh, m. */ readonly edgeLength: number;
  readonly mesh: unknown;
  readonly drafted: unknown;
  /** Rest corners, the same for all options. */ readonly triRest: unknown;
  readonly results: readonly unknown[];
}

function toBase64(bytes: Uint8Array): string {
  let all = '';
  for (const byte of bytes) all += String.fromCharCode(byte);
  return btoa(all);
}

const packArray = (array: Packable | Float64Array): Packed => {
  const kept = array instanceof Float64Array ? Float32Array.from(array) : array;
  return { kind: kept.constructor.name as Packed['kind'], base64: toBase64(new Uint8Array(kept.buffer, kept.byteOffset, kept.byteLength)) };
};

function unpackArray({ kind, base64 }: Packed): Packable | Float64Array {
  const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
  return kind === 'Float32Array' ? Float64Array.from(new Float32Array(bytes.buffer)) : new KINDS[kind](bytes.buffer);
}

const pack = (value: unknown): unknown => JSON.parse(JSON.stringify(value, (_, v) => (ArrayBuffer.isView(v) ? packArray(v as Packable) : v)));

function unpack(value: unknown): unknown {
  if (typeof value !== 'object' || value === null) return value;
  if ('base64' in value) return unpackArray(value as Packed);
  if (Array.isArray(value)) return value.map(unpack);
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, unpack(inner)]));
}

/** Maps are shown of the middle alone: the ends go without what theirs would be made from, a third of a megabyte. */
const lean = (run: Result['runs'][number]) => (run.band === 'mid' ? run : { ...run, cloth: null });

/** Results of the options of one bag as JSON. Errors: options of different meshes, or a figure that JSON cannot hold (NaN, infinity). */
export function packResults(bag: string, edgeLength: number, results: readonly Result[]): PackedResults {
  const shared = ({ mesh, drafted, triRest }: Result): string => JSON.stringify(pack([mesh, drafted, triRest]));
  if (results.some((r) => shared(r) !== shared(results[0]))) throw new Error('the options differ in their mesh: each needs its own');
  JSON.stringify(results, (key, v) => {
    if (typeof v === 'number' && !Number.isFinite(v)) throw new Error(`${key} is ${v}, which JSON does not hold`);
    return v;
  });
  const { mesh, drafted, triRest } = results[0];
  const own = ({ mesh: _, drafted: __, triRest: ___, runs, ...rest }: Result) => pack({ ...rest, runs: runs.map(lean) });
  return { bag, edgeLength, mesh: pack(mesh), drafted: pack(drafted), triRest: pack(triRest), results: results.map(own) };
}

/** The results again: figures to the last digit, shapes to float32 (some 1e-8 m on a bag). */
export function unpackResults(packed: PackedResults): Result[] {
  const mesh = unpack(packed.mesh);
  const drafted = unpack(packed.drafted);
  const triRest = unpack(packed.triRest);
  return packed.results.map((own) => ({ ...(unpack(own) as Omit<Result, 'mesh' | 'drafted' | 'triRest'>), mesh, drafted, triRest }) as Result);
}
