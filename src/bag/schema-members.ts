/** The written form of line members: cord, boning, wire, zip, frame. */
import { z } from 'zod';
import { entry, Name, Quantity, Size } from './schema-base.ts';
import { MEMBERS } from './words.ts';

export const MemberForm = entry({
  note: z.string({ error: 'text' }).optional(),
  along: z
    .union([Name, z.array(Name).min(1).max(50)], {
      error: 'an edge "panel.edge", a stretch "panel.edge[10%..90%]", a drawn line "panel.line", or a list of them',
    })
    .meta({
      description:
        'edges, stretches or drawn lines that it runs along: open edges, or one side of a seam. Those that meet in the sewn bag are one line, on one panel or on several',
    }),
  kind: z.enum(MEMBERS, { error: `one of ${MEMBERS.join(', ')}` }),
  size: Size.optional().meta({
    description: 'diameter of a cord or wire, width of boning, binding or frame, width of a zip’s closed chain; its usual one when left out',
  }),
  rigidity: Quantity.optional().meta({ description: 'its bending rigidity EI, such as "0.02 N.m2", instead of that of its kind' }),
  stretch: Quantity.optional().meta({ description: 'its stiffness EA against stretch, such as "2000 N" (force per strain), instead of that of its kind' }),
  formed: z
    .union([z.enum(['as drawn', 'as sewn'], { error: '"as drawn", "as sewn" or a radius' }), Size], { error: '"as drawn", "as sewn" or a radius' })
    .optional()
    .meta({
      description:
        'what it is bent to before it is sewn in: its line as drawn, its line in the sewn bag (a frame bent to the mouth), or a radius; straight when left out. At corners of the line it is cut unless it is formed',
    }),
  ends: z
    .enum(['open', 'ring'], { error: '"open" or "ring"' })
    .optional()
    .meta({ description: 'ring: its two ends are joined, on a line that closes, such as the whole mouth; open when left out' }),
  length: Size.optional().meta({ description: 'its own length, of a frame or a zip bought ready: `check` says where that is not the length of its line' }),
  mass: Quantity.optional().meta({ description: 'its mass per length, such as "12 g/m", instead of that of its kind' }),
  'stops short': Size.optional().meta({ description: 'left out at each end: a cord is cut out of a seam’s allowance; 0 when left out' }),
});
export type MemberForm = z.infer<typeof MemberForm>;
