import type { Band } from '../material/types.ts';
import type { Status } from '../solver/types.ts';

type Figure = number | null;
type Figure3 = [number, number, number];

/** An object whose further keys are handed on as they were written. */
interface More {
  [key: string]: unknown;
}

/** One end of the band, as a results file has it: SI, null where a figure does not apply. */
export interface RunRecord {
  status: Status;
  /** Largest force left over at a mesh point, over a mesh point's weight. */ residual: Figure;
  iterations: number;
  factorisations: number;
  /** Heights, drop, lean, bulge, ...: m, rad, shares. */ measures: Record<string, Figure>;
  /** By panel: mass kg, height m, overhang m, stand number, lean, bulge, curvature. */ panels: Record<string, Record<string, Figure | string>>;
  /** Settled places of the marks, m. */ marks: Record<string, Figure3>;
  /** N */ reactions: { table: Figure3; held: Figure3 };
  contact: { crossings: number; deepestPenetration: number; touching: number };
  feet?: { name: string; at: [number, number, number]; newtons: number }[] | undefined;
  contents?:
    | ({
        name: string;
        mass: number;
        at: [number, number, number];
        axes: number[];
        shape: { kind: 'box' | 'cylinder' | 'sphere' } & More;
        offset: number;
      } & More)[]
    | undefined;
  balance: More | null;
  strain: More | null;
  hung: More | null;
  /** Its closures: gape m, pull N or N/m, and what is in the way of one that does not close. */ closures?:
    | ({ name: string; kind: string; closed: boolean } & More)[]
    | undefined;
  /** What is in a bag with closures, kg. */ closedOver?: number | undefined;
  /** A panel of that role, or the bottom that boxed corners make. */ hasBase: boolean;
  /** Its strains carry the arcs' correction. */ arcs: boolean;
  stable: boolean;
  stillFalling: boolean;
  /** Its word, certain before it was at rest: the figures are those of a bag still falling. */ early?: 'slumps' | 'lies flat' | undefined;
  /** Ends of the band that were not run because their word follows from this one. */ standsFor?: Band[] | undefined;
  nudge: { tested: boolean; comesBack: boolean; fraction: number; worstShift: Figure } & More;
  inward: { ran: boolean; heightKept: Figure; differs: boolean } & More;
  /** Near its limit: once more on another mesh, m, and from another seed. */
  again?: { edgeLength: number; seed: number; word: string; margin: Figure; heightKept: Figure } | undefined;
  /** What stands and does not hold, with its upright corners pressed to a crease. */
  corners?: { word: string; margin: Figure; heightKept: Figure } | undefined;
}

/** A verdict as a results file has it. */
export interface VerdictRecord extends More {
  word: string;
  reason: string;
  /** Smallest over all figures and runs; null without a verdict. */ margin: Figure;
  givesWayFirst: string | null;
  decidedBy: string | null;
  byBand: Partial<Record<Band, string>>;
  wanted: string;
  meetsWanted: boolean | null;
  wantedReason: string;
  fit: string | null;
  details: string[];
  pips: ({ band: Band; name: 'soft' | 'typical' | 'stiff'; word: string; follows?: true | undefined } & More)[];
  testSwatch: boolean;
}

export interface LinesRecord {
  straps: { name: string; width: number; line: number[] }[];
  closures: { name: string; kind: string; closed: boolean; size: number; lines: number[][] }[];
}

/** One option in one stance, as a results file has it; its own figures are those of the middle run, else of the first. */
export interface ResultRecord extends RunRecord {
  option: string;
  stance: string;
  vertices: number;
  massKg: number;
  parts?: ({ name: string; what: string; massKg: number } & More)[] | undefined;
  verdict: VerdictRecord;
  settings: { /** of the mesh, m */ edgeLength: number; seed: number; kernels: 'SIMD' | 'plain' };
  ground?: More | undefined;
  evidence: string;
  stacks: ({ panel: string; region: string | null; story: string; arealMass: number; overhang: number } & More)[];
  seams: { name: string; bulk: number; layers: number; length: number; cutOut?: string[] | undefined }[];
  stitching?: ({ strap: string } & More)[] | undefined;
  /** Bands whose bag has come down, and the least and most that they kept. */ collapsed?: { bands: Band[]; heightKept: [number, number] } | undefined;
  nearLimit?: More | undefined;
  cautions: string[];
  bands: Partial<Record<Band, RunRecord>>;
  /** By panel, m: flat places 2 per point, settled places 3 per point. */ positions: Record<string, { flat: number[]; settled: number[] }>;
  /** Straps and closures of the same run as they lie, 3 per point, m. */ lines: LinesRecord;
  /** What the same run's maps are made of: 3 figures per triangle, and what the cloth may touch. */
  cloth?:
    | { strain: Figure[]; stress: Figure[]; felt: Figure; touches: ({ name: string; shape: { kind: string } & More; offset: number } & More)[] }
    | undefined;
  /** The other runs: settled places by panel, and their lines. */ ends?:
    | Partial<Record<Band, { settled: Record<string, number[]>; lines: LinesRecord }>>
    | undefined;
}

/** A results file as read. A single result has its keys, but positions, lines, cloth and ends, at the top as well. */
export interface ResultsRecord extends Partial<Omit<ResultRecord, 'positions' | 'lines' | 'cloth' | 'ends'>> {
  format: 'slumpline results';
  formatVersion: 2;
  program: { name: string; version: string };
  bag: string | null;
  /** SHA-256 of the bag file's text, hex. */ bagDigest: string | null;
  /** The bag file's text. */ bagFile?: string | undefined;
  /** Written beside this one. */ files?: string[] | undefined;
  /** One sentence over several stances of one option. */ over: string | null;
  results: ResultRecord[];
}

/** Results of several bag files, as `settle A B --json` prints them: each as its own results file would be, and its name. */
export interface BatchRecord {
  format: 'slumpline results of several files';
  formatVersion: 2;
  program: { name: string; version: string };
  /** In the order in which the files were given. */ files: (ResultsRecord & { /** As it was given. */ file: string })[];
}
