/** The form of the cutting list's JSON, for whoever reads one: documented here once, as the JSON schema, and held to in the tests. SI throughout. */
import { z } from 'zod';
import { CUT_LIST_FORMAT, CUT_LIST_VERSION, type CutListRecord } from './record.ts';

const figure = z.number().nullable();
const text = z.string();
const texts = z.array(text);
const count = z.int();
const point = z.tuple([z.number(), z.number()]);

const Purchase = z
  .strictObject({
    item: text.describe('id on the shelf'),
    itemName: text,
    unit: z.enum(['m', 'm2', 'sheets', 'pieces', 'reels']),
    amount: z.number(),
    cost: figure.describe("in the shelf's currency; null: no price stated"),
    short: figure.describe('beyond the stock; null: no stock stated'),
  })
  .nullable()
  .describe('null without a shelf, or where the shelf has it not or does not say how it is sold');

const Piece = z.strictObject({
  number: count.describe('as on the pattern'),
  name: text,
  kind: z.enum(['shell', 'lining', 'interfacing', 'foam', 'board', 'facing', 'strap']),
  material: text,
  count,
  mirrored: count.describe('of these turned over'),
  width: z.number().describe('of its box at the cut line with the grain upright, m'),
  height: z.number().describe('m'),
  area: z.number().describe('m2 at the cut line, all of them'),
  mass: z.number().describe('kg, all of them'),
  notes: texts,
});

const Lay = z.strictObject({
  width: z.number().describe('of the roll, m'),
  length: z.number().describe('of roll that is taken, m'),
  area: z.number().describe('of all shapes, m2'),
  used: z.number().describe('area over width x length'),
  bound: z.number().describe('no lay is shorter, m'),
  boundBy: z.enum(['area', 'longest', 'side by side']),
  sheets: count.optional(),
  sheet: z.number().optional().describe('length of a sheet, m'),
  laid: z
    .array(z.strictObject({ name: text, mirrored: z.boolean(), turn: z.number().describe('rad'), shift: point.describe('m') }))
    .describe('a place of the shape: mirrored in the upright first, then turned, then moved; x across the roll, y along it'),
});

const Material = z.strictObject({
  material: text,
  name: text,
  pieces: count,
  area: z.number().describe('m2 at the cut lines'),
  mass: z.number().describe('kg'),
  lay: Lay.nullable().describe('null of leather'),
  reason: text.nullable().describe('why the lay is longer than 1.25 times area over width'),
  hide: figure.describe('leather to buy, m2'),
  waste: figure.describe('share of it that is lost'),
  sheets: count.nullable(),
  bought: Purchase,
});

const Length = z.strictObject({
  name: text,
  kind: z.enum(['strap', 'binding', 'member', 'closure']),
  material: text,
  materialName: text,
  length: z.number().describe('of one as it is cut, m'),
  width: z.number().describe('m; 0 where none is known'),
  count,
  mass: z.number().describe('of one, kg'),
  how: text.describe('how it comes to this length'),
  bought: Purchase,
});

const Part = z.strictObject({
  name: text,
  kind: text,
  what: text,
  on: texts.describe('panels'),
  count,
  size: figure.describe('m; null where none is known'),
  mass: figure.describe("of one, kg; null: the bag's weight does not count it"),
  evidence: text.nullable(),
  bought: Purchase,
});

const Cost = z.strictObject({
  shelf: text,
  currency: text,
  total: figure.describe('of materials, lengths, parts and thread; null where one has no price'),
  known: z.number().describe('of those that have one'),
  without: texts.describe('names of what has no price'),
});

export const CutListFile = z.strictObject({
  format: z.literal(CUT_LIST_FORMAT),
  version: z.literal(CUT_LIST_VERSION),
  bag: text,
  option: text,
  pieces: z.array(Piece),
  materials: z.array(Material),
  tapes: z.array(Length).describe('what is cut by length: straps, bindings, members, zips, cords'),
  parts: z.array(Part).describe('what is bought by the piece'),
  thread: z.array(
    z.strictObject({
      name: text,
      length: z.number().describe('of the row, m'),
      stitch: z.number().describe('m'),
      thickness: z.number().describe('sewn through, m'),
      thread: z.number().describe('needle and bobbin, m'),
    }),
  ),
  threadBought: Purchase.describe('thread of all rows'),
  mass: z.number().describe('kg of all pieces, lengths and parts as cut and bought'),
  finished: z
    .array(z.strictObject({ kind: z.enum(['panel', 'strap', 'member', 'hardware', 'closure']), name: text, mass: z.number().describe('kg') }))
    .describe('the finished bag by part; together what it weighs'),
  cost: Cost.nullable().describe('null without a shelf'),
  order: z.array(z.strictObject({ phase: text, text })).describe('of sewing'),
  notes: texts,
  stated: z.strictObject({
    width: z.number(),
    widths: z.record(text, z.number()),
    gap: z.number(),
    waste: figure,
    stitch: z.number(),
    zipEnds: z.number(),
    cordEnds: z.number(),
  }),
});

/** Neither has a key that the other lacks: record.ts says the same in types that need no zod. */
type Lacking<A, B> = Exclude<keyof A, keyof B> | Exclude<keyof B, keyof A>;
type File = z.infer<typeof CutListFile>;
const SAME_KEYS: Record<
  | Lacking<File, CutListRecord>
  | Lacking<File['pieces'][number], CutListRecord['pieces'][number]>
  | Lacking<File['materials'][number], CutListRecord['materials'][number]>
  | Lacking<File['tapes'][number], CutListRecord['tapes'][number]>
  | Lacking<File['parts'][number], CutListRecord['parts'][number]>
  | Lacking<File['stated'], CutListRecord['stated']>,
  never
> = {};
void SAME_KEYS;
