/** The written form of what is sewn: seams, straps and their anchors. */
import { z } from 'zod';
import { entry, Name, Quantity, Size } from './schema-base.ts';
import { ANCHORS, PRESSED, SEAM_TYPES } from './words.ts';

const SeamSide = z.union([Name, z.array(Name)], { error: 'an edge "panel.edge" or a list of edges' });
const SeamSides = z.array(SeamSide, { error: 'a list of the sides sewn together, each "panel.edge" or a list of edges' });
const SeamFull = entry({
  join: SeamSides,
  direction: z
    .enum(['against', 'along'], { error: '"against" or "along"' })
    .optional()
    .meta({ description: 'second side against or along the first; found from the bag when left out' }),
  type: z.enum(SEAM_TYPES, { error: `one of ${SEAM_TYPES.join(', ')}` }).optional(),
  allowance: Size.optional(),
  trimmed: Size.optional().meta({ description: 'width to which its allowances are trimmed once they are sewn' }),
  skived: entry({ to: Quantity, over: Size })
    .optional()
    .meta({ description: 'thickness to which its allowances are skived before they are sewn, and over which width from the cut edge' }),
  gather: z
    .union(
      [
        z.number(),
        z.string(),
        z
          .array(entry({ from: Name, to: Name, ratio: z.union([z.number(), z.string()], { error: 'a ratio such as 2' }) }))
          .min(1)
          .max(50),
      ],
      {
        error: 'a ratio such as 1.5, or a list of stretches such as [{"from": "front.notch a", "to": "front.notch b", "ratio": 2}]',
      },
    )
    .optional()
    .meta({ description: 'ratio of the gathered side to the other, even all along; or stretches between marks, each with a ratio, and plain between them' }),
  hinge: entry({ stiffness: Quantity, rest: Size.optional() }).optional(),
  pressed: z
    .enum(PRESSED, { error: `one of ${PRESSED.join(', ')}` })
    .optional()
    .meta({ description: 'how a plain or turned seam is pressed: creased is pressed or hammered to an edge and rests as drafted; turns freely when left out' }),
});
export const SeamForm = z.union([SeamSides, SeamFull], { error: 'a list of sides such as ["front.left", "gusset.top"], or an object with "join"' });
export type SeamForm = z.infer<typeof SeamForm>;

const Anchor = entry({
  panel: Name,
  kind: z.enum(ANCHORS, { error: `one of ${ANCHORS.join(', ')}` }).optional(),
  'from left': Size.optional().meta({ description: "level distance of the strap's centre line from the left side of the panel, seen from its face" }),
  'from right': Size.optional().meta({ description: 'the same from the right side; exactly one of the two' }),
  'from top': Size.optional().meta({ description: 'distance of the top of the patch straight down from the edge above it; 25 mm when left out' }),
  height: Size.optional().meta({ description: 'height of the sewn patch; by its kind when left out' }),
});
export type AnchorForm = z.infer<typeof Anchor>;
export const StrapForm = entry({
  note: z.string({ error: 'text' }).optional(),
  width: Size,
  length: Size.meta({ description: 'length between the tops of its two patches' }),
  shortest: Size.optional().meta({
    description: 'with an adjuster: the same at its shortest; "length" is then its longest',
  }),
  drop: Size.optional().meta({ description: 'wanted distance from the top of the strap, carried, down to the mouth' }),
  stack: Name.meta({ description: 'stack of the cloth or webbing the strap is made of, unfolded' }),
  layers: z
    .number({ error: 'a whole number from 1 to 8' })
    .optional()
    .meta({ description: 'thicknesses of the stack that the folded strap has, 1 when left out' }),
  thread: Quantity.optional().meta({
    description: 'breaking force of the thread its ends are sewn on with, such as "60 N": what their stitching comes to is then told beside the pulls',
  }),
  stitch: Size.optional().meta({ description: 'stitch length of its ends, 3 mm when left out; only with "thread"' }),
  from: Anchor,
  to: z.union([z.literal('mirrored'), Anchor], { error: '"mirrored" or an anchor such as {"panel": "back", "from left": "W/4"}' }),
  'also on': z
    .array(Name, { error: 'a list of panels' })
    .optional()
    .meta({ description: 'the same strap once more on each of these panels: front and back stay a pair' }),
}).meta({ description: 'a strap and its two anchors: it carries in a hung stance; in others half its weight lies on each patch' });
export type StrapForm = z.infer<typeof StrapForm>;
