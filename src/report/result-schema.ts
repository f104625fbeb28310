/** The shape of a results file (json.ts), for whoever reads one: documented here once, as the JSON schema, and held to in the tests. SI throughout. */
import { z } from 'zod';
import { BATCH_FORMAT, RESULT_FORMAT, RESULT_VERSION } from './json.ts';
import type { BatchRecord, ResultsRecord } from './results-record.ts';

const figure = z.number().nullable();
const point = z.tuple([z.number(), z.number(), z.number()]);
const band = z.enum(['low', 'mid', 'high']);

const Verdict = z.looseObject({
  word: z.string().describe('holds, softens, slumps, ...: see src/report/README.md'),
  reason: z.string(),
  margin: figure.describe('smallest over all figures and runs: 1 as drafted, 0 at the limit of "holds", negative when missed; null without a verdict'),
  givesWayFirst: z.string().nullable().describe('panel'),
  decidedBy: z.string().nullable(),
  byBand: z.partialRecord(band, z.string()),
  wanted: z.string(),
  meetsWanted: z.boolean().nullable(),
  wantedReason: z.string(),
  fit: z.string().nullable().describe('meets, too soft, too stiff, ...'),
  details: z.array(z.string()),
  pips: z.array(z.looseObject({ band, name: z.enum(['soft', 'typical', 'stiff']), word: z.string(), follows: z.literal(true).optional().describe('not run') })),
  testSwatch: z.boolean().describe('the runs differ'),
});

const RunHead = {
  status: z.enum(['settled', 'notConverged', 'diverged']),
  residual: figure.describe("largest force left over at a mesh point, over a mesh point's weight"),
  iterations: z.int(),
};

const RunBody = {
  measures: z.record(z.string(), figure).describe('heights, drop, lean, bulge, ...: m, rad, shares; null where one does not apply'),
  panels: z
    .record(z.string(), z.record(z.string(), z.union([figure, z.string()])))
    .describe('by panel: mass kg, height m, overhang m, stand number, lean, bulge, curvature'),
  marks: z.record(z.string(), point).describe('settled places of the marks, m'),
  reactions: z.object({ table: point, held: point }).describe('N'),
  contact: z.object({ crossings: z.int(), deepestPenetration: z.number(), touching: z.int() }),
  feet: z
    .array(z.object({ name: z.string(), at: point, newtons: z.number() }))
    .optional()
    .describe('what each foot carries'),
  contents: z
    .array(
      z.looseObject({
        name: z.string(),
        mass: z.number(),
        at: point,
        axes: z.array(z.number()).length(9).describe('world directions of its own x, y, z'),
        shape: z.looseObject({ kind: z.enum(['box', 'cylinder', 'sphere']) }).describe('about its own middle, m'),
        offset: z.number().describe('from its surface, where cloth feels it, m'),
      }),
    )
    .optional(),
  balance: z.looseObject({}).nullable(),
  strain: z.looseObject({}).nullable(),
  hung: z.looseObject({}).nullable(),
  closures: z
    .array(
      z.looseObject({
        name: z.string(),
        kind: z.string(),
        closed: z.boolean(),
        gape: figure.describe('largest opening left, m; of a cord the widest way across its loop'),
        pull: figure.describe('on a part or at the free ends of a cord, N'),
        leastPull: figure.optional().describe('in a cord at its far side, where friction in the channel has left least of it, N'),
        pullPerLength: figure.describe('across a zip, N/m'),
        length: figure.describe('of a cord in its channel, m'),
        lift: figure.describe("furthest that a flap's free edge stands off, m"),
        left: figure.describe('m still open where something is in the way; 0 where it closed'),
        inTheWay: z.string(),
        pullOff: figure.describe('stated, N'),
      }),
    )
    .optional()
    .describe('absent where the bag has none, or its stance leaves them out'),
  closedOver: z.number().optional().describe('what is in a bag with closures, kg'),
  hasBase: z.boolean(),
  arcs: z.boolean().describe("strains carry the arcs' correction"),
  stable: z.boolean(),
  stillFalling: z.boolean(),
  early: z.enum(['slumps', 'lies flat']).optional().describe('its word, which was certain before it was at rest: the figures are those of a bag still falling'),
  standsFor: z.array(band).optional().describe('ends of the band that were not run because their word follows from this one'),
  nudge: z.looseObject({ tested: z.boolean(), comesBack: z.boolean(), fraction: z.number(), worstShift: figure.describe('m') }),
  inward: z.looseObject({ ran: z.boolean(), heightKept: figure, differs: z.boolean() }),
  again: z
    .object({ edgeLength: z.number(), seed: z.int(), word: z.string(), margin: figure, heightKept: figure })
    .optional()
    .describe('near its limit: once more on another mesh, m, and seed'),
  corners: z
    .object({ word: z.string(), margin: figure, heightKept: figure })
    .optional()
    .describe('the middle of one that stands and does not hold, with its upright corners pressed to a crease'),
  factorisations: z.int(),
};

const Lines = z.object({
  straps: z.array(z.object({ name: z.string(), width: z.number(), line: z.array(z.number()) })),
  closures: z.array(z.object({ name: z.string(), kind: z.string(), closed: z.boolean(), size: z.number(), lines: z.array(z.array(z.number())).min(1) })),
});

const One = z.strictObject({
  option: z.string(),
  stance: z.string(),
  ...RunHead,
  vertices: z.int(),
  massKg: z.number(),
  parts: z
    .array(z.looseObject({ name: z.string(), what: z.string(), massKg: z.number() }))
    .optional()
    .describe('members and hardware'),
  verdict: Verdict,
  ...RunBody,
  collapsed: z
    .object({ bands: z.array(band), heightKept: z.tuple([z.number(), z.number()]) })
    .optional()
    .describe('bands whose bag has come down, and the least and most that they kept: heaps, whose order says nothing'),
  settings: z.object({ edgeLength: z.number().describe('of the mesh, m'), seed: z.int(), kernels: z.enum(['SIMD', 'plain']) }),
  ground: z.looseObject({}).optional(),
  evidence: z.string(),
  stacks: z.array(z.looseObject({ panel: z.string(), region: z.string().nullable(), story: z.string(), arealMass: z.number(), overhang: z.number() })),
  seams: z.array(z.object({ name: z.string(), bulk: z.number(), layers: z.number(), length: z.number(), cutOut: z.array(z.string()).optional() })),
  stitching: z.array(z.looseObject({ strap: z.string() })).optional(),
  nearLimit: z.looseObject({}).optional(),
  cautions: z.array(z.string()),
  bands: z.partialRecord(band, z.object({ ...RunHead, ...RunBody })),
  positions: z.record(z.string(), z.object({ flat: z.array(z.number()), settled: z.array(z.number()) })).describe('by panel, m'),
  lines: Lines.describe('straps and closures as they lie, 3 per point, m'),
  cloth: z
    .object({
      strain: z.array(figure).describe('3 per triangle: Green strain E11 E22 2 E12 in its rest frame, x along the warp'),
      stress: z.array(figure).describe('3 per triangle: stress resultants S11 S22 S12, N/m'),
      felt: figure.describe('distance at which sheets feel each other, m; null where the cloth does not meet itself'),
      touches: z
        .array(z.object({ name: z.string(), shape: z.looseObject({ kind: z.string() }), offset: z.number().describe('m') }))
        .describe('supports, forms, bars'),
    })
    .optional()
    .describe('what the maps of the run that the own keys come from are made of; its triangles are those that this version makes of the bag'),
  ends: z
    .partialRecord(band, z.object({ settled: z.record(z.string(), z.array(z.number())), lines: Lines }))
    .optional()
    .describe('the other runs of the band: settled places by panel, 3 per point, m, and their lines'),
});

/** The keys of a single result, which stand at the top as well. */
const Top = One.omit({ positions: true, lines: true, cloth: true, ends: true }).partial();

export const ResultsFile = z.strictObject({
  ...Top.shape,
  format: z.literal(RESULT_FORMAT),
  formatVersion: z.literal(RESULT_VERSION),
  program: z.object({ name: z.string(), version: z.string() }),
  bag: z.string().nullable(),
  bagDigest: z.string().nullable().describe("SHA-256 of the bag file's text, hex"),
  files: z.array(z.string()).optional().describe('files written beside this one'),
  bagFile: z.string().optional().describe("the bag file's text, so that the results open by themselves"),
  over: z.string().nullable().describe('one sentence over several stances of one option'),
  results: z.array(One),
});

/** Several results files in one, each with the name of its bag file. */
export const BatchFile = z.strictObject({
  format: z.literal(BATCH_FORMAT),
  formatVersion: z.literal(RESULT_VERSION),
  program: z.object({ name: z.string(), version: z.string() }),
  files: z.array(ResultsFile.extend({ file: z.string().describe('as it was given on the command line') })),
});

/** Neither side of each pair has a key that the other lacks: results-record.ts says the same in types that need no zod. */
type Lacking<A, B> = Exclude<keyof A, keyof B> | Exclude<keyof B, keyof A>;
type One = z.infer<typeof One>;
const SAME_KEYS: Record<
  Lacking<z.infer<typeof ResultsFile>, ResultsRecord> | Lacking<One, ResultsRecord['results'][number]> | Lacking<z.infer<typeof BatchFile>, BatchRecord>,
  never
> = {};
void SAME_KEYS;
