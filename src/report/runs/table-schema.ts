/** The shape of a sweep's table.json (table.ts), for whoever reads one: documented here once, as the JSON schema, and held to in the tests. SI but for what was varied. */
import { z } from 'zod';
import { SEVERITY } from '../severity.ts';
import type { RunsTable } from './read-table.ts';
import { TABLE_FORMAT } from './table.ts';

const figure = z.number().nullable();
const band = z.enum(['low', 'mid', 'high']);
const Word = z.enum(SEVERITY as [(typeof SEVERITY)[number], ...(typeof SEVERITY)[number][]]);
const value = z.union([z.number(), z.string()]);
const hex = (digits: number) => z.string().regex(new RegExp(`^[0-9a-f]{${digits}}$`));

const AxisForm = z.strictObject({
  name: z.string().describe('as it was asked for, such as "W" or "stack.wall.bond"'),
  kind: z.enum(['words', 'figures']).describe('a word for each choice, or figures'),
  unit: z.string().describe('of its figures; empty for plain numbers and words'),
  values: z.array(value).nullable().describe('all its values in order; null where every run draws its own between "from" and "to"'),
  from: figure,
  to: figure,
  middle: figure.describe('where half of the way lies; null: in the middle of the two. A band of a material has its typical bolt here'),
  byRatio: z.boolean().describe('steps and draws are even by ratio'),
  drawn: z.boolean().describe('drawn in a sample rather than gone through'),
});

const PlanForm = z.strictObject({
  format: z.literal('slumpline plan'),
  formatVersion: z.literal(1),
  version: z.string().describe('of the program that made it'),
  bagDigest: hex(64).describe("SHA-256 of the bag file's text"),
  bag: z.string(),
  wanted: z.string(),
  axes: z.array(AxisForm),
  samples: z
    .strictObject({ count: z.int().min(1), seed: z.int() })
    .nullable()
    .describe('draws, and the seed of their chance; null: everything is gone through'),
  bands: z.array(band).describe('ends of the band that each run settles'),
  edgeLength: z.number().positive().describe('of the mesh, m'),
  runs: z.int().min(0).describe('how many there are; numbered from 0'),
});

const RunForm = z.strictObject({
  run: z.int().min(0).describe('its number'),
  values: z.record(z.string(), value).describe('by the names of the axes, in their units'),
  option: z.string(),
  stance: z.string(),
  word: Word.nullable().describe('null: this bag cannot be made so; "reason" says why'),
  reason: z.string(),
  margin: figure.describe('1 as drafted, 0 at the limit of "holds", negative when missed'),
  heightKept: figure.describe('share of the drafted height, of the typical bolt, else of the first end that was run'),
  tilt: figure.describe('of a hung bag, rad'),
  meetsWanted: z.boolean().nullable(),
  decidedBy: z.string().nullable(),
  massKg: figure,
  bands: z.partialRecord(band, z.strictObject({ word: Word, status: z.enum(['settled', 'notConverged', 'diverged']), heightKept: figure })),
});

const interval = { low: z.number().optional(), high: z.number().optional() };
const OneCase = { option: z.string(), stance: z.string() };
const Share = z.strictObject({
  axis: z.string(),
  share: z.number().describe('first-order share of the variance; an estimate from draws may fall a little outside 0 to 1'),
  ...interval,
  groups: z.int().describe('in which its values were laid together'),
});

const TableFile = z.strictObject({
  format: z.literal(TABLE_FORMAT),
  formatVersion: z.literal(1),
  planDigest: hex(64).describe('SHA-256 of the plan'),
  plan: PlanForm,
  holds: z
    .array(z.strictObject({ ...OneCase, holds: z.int(), of: z.int().describe('runs with a verdict'), ...interval }))
    .describe('by option and stance; low and high: 95 % interval of Wilson, of draws alone'),
  matters: z.strictObject({
    method: z.string(),
    byCase: z.array(z.strictObject({ ...OneCase, height: z.array(Share), holds: z.array(Share) })),
  }),
  runs: z.array(RunForm).describe('those that are there, in the order of their numbers'),
});

/** JSON schema (draft 2020-12) of a sweep's table.json (runsJson), for editors and other programs. Returns a plain object. */
export const runsJsonSchema = (): object => z.toJSONSchema(TableFile);

/** Neither side has a key that the other lacks: types.ts says the same in types that need no zod. */
type Lacking<A, B> = Exclude<keyof A, keyof B> | Exclude<keyof B, keyof A>;
type Read = z.infer<typeof TableFile>;
const SAME_KEYS: Record<
  | Lacking<Read['plan'], RunsTable['plan']>
  | Lacking<Read['plan']['axes'][number], RunsTable['plan']['axes'][number]>
  // A run's own line names its plan; in the table the plan stands once.
  | Exclude<Lacking<Read['runs'][number], RunsTable['runs'][number]>, 'plan'>,
  never
> = {};
void SAME_KEYS;
