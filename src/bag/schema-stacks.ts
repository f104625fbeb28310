/** The written form of materials, stacks and options. */
import { z } from 'zod';
import { entry, Name, Quantity, Size } from './schema-base.ts';
import { EVERY_PANEL, IN_SEAMS, JOINS, SWATCH_RULES } from './words.ts';

const Banded = z.union([Quantity, z.tuple([Quantity, Quantity, Quantity])], { error: 'a figure with its unit, or three: low, middle, high' });
const BothWays = z.union([Banded, entry({ warp: Banded, weft: Banded })], { error: 'a figure with its unit, or {"warp": ..., "weft": ...}' });
const OneBothWays = z.union([Quantity, entry({ warp: Quantity, weft: Quantity })], { error: 'a figure with its unit, or {"warp": ..., "weft": ...}' });
const SwatchForm = entry({
  from: z.string({ error: 'text' }).optional().meta({ description: 'place on the hide, or bolt' }),
  mass: Quantity.optional().meta({ description: "of this swatch; the material's when left out" }),
  overhang: OneBothWays.optional(),
  bending: OneBothWays.optional(),
});
export type SwatchForm = z.infer<typeof SwatchForm>;
export const MaterialForm = entry({
  name: z.string({ error: 'text' }).optional(),
  like: Name.optional().meta({ description: 'built-in material that fills what is not given here' }),
  mass: Quantity,
  thickness: Quantity.optional(),
  bending: BothWays.optional().meta({ description: 'flexural rigidity per width' }),
  overhang: BothWays.optional().meta({ description: 'overhang of a strip at 41.5 degrees' }),
  swatches: z
    .array(SwatchForm, { error: 'a list of swatches, such as [{"from": "bolt 1", "overhang": "62 mm"}, ...]' })
    .optional()
    .meta({ description: 'strips of several bolts or places on a hide instead of one overhang or bending: the band is then measured' }),
  rule: z
    .enum(SWATCH_RULES, { error: `one of ${SWATCH_RULES.join(', ')}` })
    .optional()
    .meta({
      description:
        "how swatches make low, middle and high: softest, median and stiffest; or the 90 % interval of one more by Student's t; the first when left out",
    }),
  'in-plane': Banded.optional(),
  shear: Banded.optional(),
  poisson: z.number({ error: 'a number' }).optional(),
  source: z.string({ error: 'text' }).optional(),
});
export type MaterialForm = z.infer<typeof MaterialForm>;
export type BandedForm = z.infer<typeof Banded>;
export type BothWaysForm = z.infer<typeof BothWays>;

const LayerFull = entry({
  material: Name.optional(),
  loose: Name.optional(),
  fused: Name.optional(),
  bonded: Name.optional(),
  join: z.enum(JOINS, { error: `one of ${JOINS.join(', ')}` }).optional(),
  thickness: Quantity.optional(),
  bond: z.number({ error: 'a number from 0 to 1' }).optional(),
  angle: Size.optional(),
  'in seams': z.enum(IN_SEAMS, { error: '"caught" or "cut out"' }).optional().meta({
    description:
      'is this layer sewn into the seam allowances or cut back to the stitch line; when left out, fusibles, foam, fleece and boards are cut out for the bulk of a seam',
  }),
  inset: Quantity.optional().meta({
    description: 'how far inside the seam line this layer ends where it is cut out; when left out 5 mm for fusibles and boards, 0 mm for the rest',
  }),
  ease: z
    .union([Size, z.tuple([Size, Size])], { error: 'a share such as "2%" or a length such as "6 mm", or two of them, along warp and weft' })
    .optional()
    .meta({ description: 'a loose layer cut longer than its panel by this share or length; it weighs more and pulls only when stretched that far' }),
});
const LayerForm = z.union([Name, LayerFull], { error: 'a material name or an object such as {"fused": "fleece"}' });
export type LayerForm = z.infer<typeof LayerForm>;

const DirectForm = entry({
  mass: Quantity,
  thickness: Quantity.optional(),
  D11: Quantity,
  D22: Quantity,
  D12: Quantity.optional(),
  D66: Quantity,
  C11: Quantity,
  C22: Quantity,
  C12: Quantity.optional(),
  C66: Quantity,
  angle: Size.optional(),
  source: z.string({ error: 'text' }).optional(),
});
export type DirectForm = z.infer<typeof DirectForm>;
export const StackForm = z.union([z.array(LayerForm), DirectForm], { error: 'a list of layers from the face inward, or an object with mass, D11 ... C66' });
export type StackForm = z.infer<typeof StackForm>;

export const OptionForm = z.record(z.string(), z.string({ error: 'a stack name' }), { error: `panels with their stacks, such as {"${EVERY_PANEL}": "plain"}` });
