/** The written form of hardware: rings, sliders, buckles, clasps, feet, corner plates, rivets, studs. */
import { z } from 'zod';
import { entry, Name, Place, Quantity, Size } from './schema-base.ts';
import { HARDWARE } from './words.ts';

export const HardwareForm = entry({
  note: z.string({ error: 'text' }).optional(),
  kind: z.enum(HARDWARE, { error: `one of ${HARDWARE.join(', ')}` }),
  panel: Name.meta({ description: 'the panel it is set on' }),
  at: z
    .array(Place, { error: 'a list of points [x, y] or places on an edge such as "top[50%]"' })
    .min(1)
    .max(100)
    .meta({ description: 'where each piece sits: points [x, y], or places on an edge such as "top[50%]"' }),
  count: Size.optional().meta({
    description:
      'how many of these places are taken, the first ones: a whole number or a formula, such as a parameter "feet"; 0 leaves all out; all when left out',
  }),
  size: Size.optional().meta({
    description:
      'width of the strap that a ring, slider, hook or buckle takes, diameter of a rivet, stud or foot, leg of a corner plate; its usual one when left out',
  }),
  mass: Quantity.optional().meta({ description: 'mass of each piece, such as "6 g", instead of that of its kind and size (estimates)' }),
  height: Size.optional().meta({ description: 'of feet: how far they lift the panel off the table; 8 mm when left out' }),
});
export type HardwareForm = z.infer<typeof HardwareForm>;
