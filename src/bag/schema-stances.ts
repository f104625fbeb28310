/** The written form of stances: what the bag stands on or hangs from, what it leans on, what is in it. */
import { z } from 'zod';
import { entry, Quantity, Size } from './schema-base.ts';
import { BASES, FORMS, GROUNDS, HANGS_FROM, LEFT_OUT, SIDES, STANCES, THINGS } from './words.ts';

const LoadForm = entry({
  mass: Quantity.meta({ description: 'mass of loose contents, such as "2 kg"' }),
  fill: z.number({ error: 'a number from 0.05 to 1' }).optional().meta({ description: 'depth of the contents over the height of the bag; 0.5 when left out' }),
  repose: Size.optional().meta({ description: 'angle at which the contents heap by themselves; 30 deg when left out' }),
});
export type LoadForm = z.infer<typeof LoadForm>;

const FormForm = entry({
  form: z.enum(FORMS, { error: `one of ${FORMS.join(', ')}` }),
  at: z
    .tuple([Size, Size, Size], { error: 'its middle [x, y, z] in lengths' })
    .optional()
    .meta({ description: 'where its middle stands, over the middle of the bag and the table: a block of 50 mm on the table has z at "25 mm"' }),
  width: Size.optional(),
  depth: Size.optional(),
  height: Size.optional(),
  diameter: Size.optional(),
  length: Size.optional(),
  along: z.enum(['x', 'y', 'z'], { error: '"x", "y" or "z"' }).optional(),
  round: Size.optional().meta({ description: 'radius of its edges, 3 mm when left out' }),
  turn: Size.optional().meta({ description: 'turn about the plumb line' }),
  friction: z.number({ error: 'a number such as 0.4' }).optional(),
}).meta({ description: 'a rigid thing that the bag leans on or lies over; its middle counts from under the middle of the bag, x to the right, y to the back' });
export type FormForm = z.infer<typeof FormForm>;

const ThingForm = entry({
  thing: z.enum(THINGS, { error: `one of ${THINGS.join(', ')}` }),
  mass: Quantity.optional(),
  width: Size.optional(),
  depth: Size.optional(),
  height: Size.optional(),
  diameter: Size.optional(),
  length: Size.optional(),
  along: z
    .enum(['x', 'y', 'z'], { error: '"x", "y" or "z"' })
    .optional()
    .meta({ description: 'direction of its length (of a block: of its height) when it is put in; z, upright, when left out' }),
  turn: Size.optional().meta({ description: 'turn about the plumb line' }),
  at: z.tuple([Size, Size], { error: 'where it is put in [x, y] in lengths' }).optional(),
  friction: z.number({ error: 'a number such as 0.4' }).optional(),
}).meta({ description: 'a rigid thing in the bag; x counts to the right from the middle of the bag, y to the back' });
export type ThingForm = z.infer<typeof ThingForm>;

export const StanceForm = entry({
  kind: z.enum(STANCES, { error: `one of ${STANCES.join(', ')}` }).optional(),
  friction: z.number({ error: 'a number such as 0.4' }).optional(),
  from: z
    .enum(HANGS_FROM, { error: `one of ${HANGS_FROM.join(', ')}` })
    .optional()
    .meta({ description: 'what a hung bag hangs from' }),
  diameter: Size.optional().meta({ description: "of the hook's wire, the bar, the shoulder or the grip of a hand" }),
  slope: Size.optional().meta({ description: 'fall of the shoulder, outward' }),
  apart: Size.optional().meta({ description: 'from the middle of one hand to the middle of the other' }),
  straps: z.array(z.string({ error: 'a strap of this bag' }), { error: 'a list of strap names' }).optional(),
  on: z
    .enum(GROUNDS, { error: `one of ${GROUNDS.join(', ')}` })
    .optional()
    .meta({ description: 'what the bag stands on, a table when left out' }),
  tilt: Size.optional().meta({ description: 'slope of the table' }),
  toward: z
    .enum(SIDES, { error: `one of ${SIDES.join(', ')}` })
    .optional()
    .meta({ description: 'side to which the slope falls' }),
  base: z
    .enum(BASES, { error: `one of ${BASES.join(', ')}` })
    .optional()
    .meta({ description: 'glued: the whole base is held; hinged: only the line where the walls meet it' }),
  forms: z.array(FormForm, { error: 'a list of forms' }).optional(),
  contents: z.array(ThingForm, { error: 'a list of things' }).optional(),
  closed: z
    .union([z.array(z.string({ error: 'a closure of this bag' })), z.literal(LEFT_OUT)], { error: `a list of closures, or "${LEFT_OUT}"` })
    .optional()
    .meta({ description: 'closures that are closed, in the order in which they are; none when left out; "left out": the bag without any on it' }),
  load: z.union([Quantity, LoadForm], { error: 'a mass such as "2 kg", or {"mass": "2 kg", "fill": 0.5}' }).optional(),
});
export type StanceForm = z.infer<typeof StanceForm>;
