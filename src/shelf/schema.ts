/** The written form of a shelf file. */
import { z } from 'zod';
import { entry, MaterialForm, Quantity } from '../bag/index.ts';
import { PRICED, USES } from './words.ts';

const Use = z.enum(USES, { error: `one of ${USES.map((u) => `"${u}"`).join(', ')}` });
const Amount = z.number({ error: 'a number, in the currency of the shelf' }).nonnegative({ error: 'a price of 0 or more' });
const Text = z.string({ error: 'text in quotes' }).max(500, { error: 'at most 500 characters' });

export const ItemForm = entry({
  name: Text.optional(),
  material: Text.meta({
    description: 'a built-in material, or one of "materials" below; of a trim a webbing, or what the bag file calls it: "coil zip", "magnet", "thread"',
  }),
  use: z.union([Use, z.array(Use)], { error: `what it may be used as: one or a list of ${USES.map((u) => `"${u}"`).join(', ')}` }),
  size: Quantity.optional().meta({ description: "of a trim: a webbing's width, a zip's chain, a ring's or a magnet's size; left out: any" }),
  reel: Quantity.optional().meta({ description: 'of thread: length of a reel' }),
  thickness: Quantity.optional().meta({ description: 'gauge of a hide or a sheet; left out: that of the material' }),
  bond: z.number({ error: 'a number from 0 to 1' }).min(0, { error: 'a number from 0 to 1' }).max(1, { error: 'a number from 0 to 1' }).optional(),
  'takes fusing': z
    .boolean({ error: 'true or false' })
    .optional()
    .meta({ description: 'may an interfacing be fused to it; left out: waxed, coated and plastic materials do not' }),
  width: Quantity.optional().meta({ description: 'usable width of the bolt' }),
  sheet: z.tuple([Quantity, Quantity], { error: 'width and length of a sheet, such as ["700 mm", "1000 mm"]' }).optional(),
  waste: z
    .union([z.string(), z.number()], { error: 'a share such as "30 %"' })
    .optional()
    .meta({ description: 'share of a hide that is lost; left out: 30 %' }),
  price: entry(Object.fromEntries(PRICED.map((p) => [p, Amount.optional()])) as Record<(typeof PRICED)[number], z.ZodOptional<typeof Amount>>).optional(),
  stock: Text.optional().meta({ description: 'what is there: "2.5 m", "0.8 m2", "12 ft2", "3 sheets", "4 pieces", "2 reels"' }),
  colour: Text.optional().meta({ description: 'colour of the face, in words or as "#b08050"' }),
  note: Text.optional(),
});
export type ItemForm = z.infer<typeof ItemForm>;

export const ShelfForm = entry({
  $schema: z.string({ error: 'text in quotes' }).optional(),
  shelf: z.literal(1, { error: '1, the only version there is' }),
  name: Text.optional(),
  note: z.string({ error: 'text in quotes' }).max(5000, { error: 'at most 5000 characters' }).optional(),
  currency: Text.optional(),
  items: z.record(z.string(), ItemForm, { error: 'an object {"name": {"material": ..., "use": ...}}' }),
  materials: z.record(z.string(), MaterialForm, { error: 'an object {"name": ...}' }).optional(),
});
