/** The written form of closures: what holds a bag shut at a place, along two edges, or round a channel. */
import { z } from 'zod';
import { entry, Name, Place, Quantity, Size } from './schema-base.ts';
import { CLOSURES } from './words.ts';

const On = entry({
  panel: Name,
  at: Place.meta({ description: 'its middle: a point, or a place on an edge such as "top[50%]"' }),
});

const Edges = z.union([Name, z.array(Name).min(1).max(50)], { error: 'an edge "panel.edge", a stretch "panel.edge[10%..90%]", or a list of them end to end' });

export const ClosureForm = entry({
  note: z.string({ error: 'text' }).optional(),
  kind: z.enum(CLOSURES, { error: `one of ${CLOSURES.join(', ')}` }),
  from: On.optional().meta({ description: 'of a magnet, snap, buckle, turn lock or tie: the part that comes to the other, such as that on the flap' }),
  to: On.optional().meta({ description: 'the part that it comes to' }),
  gap: Size.optional().meta({ description: 'distance between the two panels where it is closed; by its kind when left out' }),
  'pull-off': Quantity.optional().meta({ description: 'pull at which it comes open, such as "12 N": told beside its pull, never reckoned with' }),
  join: z.tuple([Edges, Edges], { error: 'the two edges that a zip joins' }).optional(),
  direction: z
    .enum(['against', 'along'], { error: '"against" or "along"' })
    .optional()
    .meta({ description: 'second edge of a zip against or along the first; found from the bag when left out' }),
  slider: Size.optional().meta({ description: 'where the slider of a closed zip stands, 0 to 1 of its length; 1 when left out: all closed' }),
  'closes from': z
    .enum(['start', 'end'], { error: '"start" or "end"' })
    .optional()
    .meta({ description: 'end of the first edge at which a zip begins to close; start when left out' }),
  along: Edges.optional().meta({ description: 'of a drawstring or cinch strap: the edges that its channel follows, end to end, one way round' }),
  below: Size.optional().meta({ description: 'distance of the channel from these edges; 0 when left out' }),
  'drawn to': Size.optional().meta({ description: 'length in the channel when it is drawn' }),
  friction: Size.optional().meta({ description: 'of a cord or strap against its channel; 0.3 when left out' }),
  size: Size.optional().meta({ description: 'across a magnet, snap, buckle or turn lock; width of a zip’s closed chain; its usual one when left out' }),
  mass: Quantity.optional().meta({
    description: 'both parts of a magnet and the like, such as "12 g"; of a zip, cord or strap per length, such as "18 g/m"; by its kind when left out',
  }),
});
export type ClosureForm = z.infer<typeof ClosureForm>;
