/** The written form of line members: cord, boning, wire, zip, frame. */
import { z } from 'zod';
import { entry, Name, Quantity, Size } from './schema-base.ts';
import { MEMBERS } from './words.ts';

export const MemberForm = entry({
  note: z.string({ error: 'text' }).optional(),
  along: z
    .union([Name, z.array(Name).min(1).max(50)], { error: 'an edge "panel.edge", a stretch "panel.edge[10%..90%]", or a list of them on one panel' })
    .meta({ description: 'edges or stretches of one panel that it runs along, end to end: open ones, or the panel’s side of a seam' }),
  kind: z.enum(MEMBERS, { error: `one of ${MEMBERS.join(', ')}` }),
  size: Size.optional().meta({
    description: 'diameter of a cord or wire, width of boning, binding or frame, width of a zip’s closed chain; its usual one when left out',
  }),
  rigidity: Quantity.optional().meta({ description: 'its bending rigidity EI, such as "0.02 N.m2", instead of that of its kind' }),
  mass: Quantity.optional().meta({ description: 'its mass per length, such as "12 g/m", instead of that of its kind' }),
  'stops short': Size.optional().meta({ description: 'left out at each end: a cord is cut out of a seam’s allowance; 0 when left out' }),
});
export type MemberForm = z.infer<typeof MemberForm>;
