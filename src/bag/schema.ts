/**
 * The written form of a bag, version 1, piece by piece: each piece is validated by itself so that one broken panel does not hide the
 * faults of the others. Names, dimensions and geometry are checked afterwards (resolve).
 */
import { z } from 'zod';
import { oneOf } from './faults.ts';
import { LARGEST_STRAIN } from './renamed.ts';
import { ANCHORS, BASES, EVERY_PANEL, FORMS, GROUNDS, HANGS_FROM, JOINS, ROLES, SEAM_TYPES, SIDES, STANCES, THINGS, WANTED } from './words.ts';

// zod would otherwise try to compile checks with new Function, which pages with a strict content policy forbid.
z.config({ jitless: true });

const Size = z
  .union([z.string(), z.number()], { error: 'a figure with its unit or a formula, in quotes' })
  .meta({ description: 'length, angle or number: "300 mm", "12 3/8 in", "W/2 - R", "30 deg"; 0 needs no unit' });
const Quantity = z
  .union([z.string(), z.number()], { error: 'a figure with its unit, in quotes' })
  .meta({ description: 'a figure with its unit: "10 oz/yd2", "55 uN.m", "5 kN/m"' });
const Point = z.tuple([Size, Size], { error: 'a point [x, y]' }).meta({ description: '[x, y] in the panel: x right, y up the bag, seen from the face' });
const Place = z.union([Point, z.string()], { error: 'a point [x, y] or a place on an edge such as "top[50%]"' });
const Name = z.string();

/** An object that knows its keys; a stranger gets a guess at what was meant, one line per stranger (schemaFaults takes them apart). */
function entry<S extends z.ZodRawShape>(shape: S) {
  const known = Object.keys(shape);
  return z.strictObject(shape, {
    error: (issue) => (issue.code === 'unrecognized_keys' ? issue.keys.map((key) => oneOf('a known entry', key, known)).join('\n') : undefined),
  });
}

const Corner = entry({
  at: Point,
  edge: Name.optional().meta({ description: 'name of the edge that leaves this corner, counterclockwise' }),
  radius: z.union([Size, z.tuple([Size, Size])], { error: 'a radius, or two: along the edge before and the edge after' }).optional(),
  through: Point.optional().meta({ description: 'the edge is a circular arc through this point' }),
  rise: Size.optional().meta({ description: 'the edge is a circular arc rising this much off its chord, outward' }),
  curve: z
    .tuple([Point, Point], { error: 'two control points [[x, y], [x, y]]' })
    .optional()
    .meta({ description: 'the edge is a cubic curve with these two control points' }),
});
const Corners = z.array(Corner, { error: 'a list of corners, counterclockwise seen from the face' });

const Radii = z.union([Size, z.tuple([Size, Size, Size, Size])], { error: 'one radius, or four: lower left, lower right, upper right, upper left' });
const Rectangle = entry({ width: Size, height: Size, radius: Radii.optional(), at: Point.optional() });
const Trapezoid = entry({ bottom: Size, top: Size, height: Size });
const Circle = entry({ diameter: Size, centre: Point.optional() });

/** Ways to draw an outline; exactly one is given. */
export const SHAPES = ['rectangle', 'trapezoid', 'circle', 'outline', 'half', 'copy', 'mirror'] as const;

const Hole = entry({ rectangle: Rectangle.optional(), circle: Circle.optional(), outline: Corners.optional() });

const EdgeList = z.union([Name, z.array(Name)], { error: 'an edge such as "top" or "top[10%..90%]", or a list of edges that follow each other' });

const Region = entry({
  stack: Name,
  outline: z.array(Point, { error: 'a list of points [x, y]' }).optional(),
  rectangle: Rectangle.optional(),
  above: Size.optional().meta({ description: 'the part of the panel above this y' }),
  below: Size.optional().meta({ description: 'the part of the panel below this y' }),
  inside: Size.optional().meta({ description: 'the panel less a margin of this width all round' }),
  along: EdgeList.optional().meta({ description: 'the strip of this "width" along an edge: a stay tape, a binding, a turned edge' }),
  width: Size.optional().meta({ description: 'width of the strip, only with "along"' }),
});

const Line = entry({
  points: z.array(Point, { error: 'a list of points [x, y]' }).meta({ description: 'the line from end to end' }),
  fold: Size.optional().meta({
    description: 'the line is a crease that takes up this width of cloth ("5 mm" pressed; 0 scored, which turns freely); left out: not folded',
  }),
  angle: Size.optional().meta({ description: 'turn of the crease at rest, 90 deg = square; as the sewn bag has it when left out; only with "fold"' }),
});
export type LineForm = z.infer<typeof Line>;

const Topstitch = entry({
  along: EdgeList,
  offset: Size.meta({ description: 'distance of the row from the edge' }),
  stitch: Size.optional().meta({ description: 'stitch length, 3 mm when left out' }),
  thread: Quantity.optional().meta({
    description: 'breaking force of the thread, such as "12 N": `check` then says what its stitches come to by the rule of thumb, for reference',
  }),
});
export type TopstitchForm = z.infer<typeof Topstitch>;

const Clip = entry({ edge: Name.optional(), point: Place.optional(), slope: z.boolean({ error: 'true or false' }).optional() });
const Axis = z.tuple([z.number(), z.number(), z.number()], { error: 'a direction [x, y, z] of plain numbers' });

export const PanelForm = entry({
  role: z.enum(ROLES, { error: `one of ${ROLES.join(', ')}` }).optional(),
  note: z.string({ error: 'text' }).optional(),
  rectangle: Rectangle.optional(),
  trapezoid: Trapezoid.optional(),
  circle: Circle.optional(),
  outline: Corners.optional(),
  half: Corners.optional().meta({ description: 'the right half, from the lower end of the centre line x = 0 round to its upper end' }),
  copy: Name.optional().meta({ description: 'same outline as this panel' }),
  mirror: Name.optional().meta({ description: 'mirror image of this panel' }),
  holes: z.array(Hole, { error: 'a list of holes' }).optional(),
  chains: z.record(z.string(), z.array(Name), { error: 'chain names, each with a list of edges' }).optional(),
  grain: Size.optional(),
  open: z.array(Name, { error: 'a list of edge names' }).optional(),
  marks: z.record(z.string(), Place, { error: 'mark names, each with its place' }).optional(),
  clips: z.array(Clip, { error: 'a list of clips' }).optional(),
  regions: z.record(z.string(), Region, { error: 'region names, each with its stack and shape' }).optional(),
  lines: z
    .record(z.string(), Line, { error: 'line names, each with its points' })
    .optional()
    .meta({ description: 'fold lines and other lines marked inside the panel' }),
  topstitch: z.array(Topstitch, { error: 'a list of rows, each with "along" and "offset"' }).optional().meta({
    description: 'rows of topstitching: one that catches the turned-back allowance of a plain, turned or topstitched seam stiffens the strip between them',
  }),
  pose: entry({ origin: z.tuple([Size, Size, Size], { error: 'a point [x, y, z]' }), x: Axis, y: Axis }).optional(),
});
export type PanelForm = z.infer<typeof PanelForm>;
export type CornerForm = z.infer<typeof Corner>;
export type HoleForm = z.infer<typeof Hole>;
export type RegionForm = z.infer<typeof Region>;
export type RectangleForm = z.infer<typeof Rectangle>;
export type SizeForm = z.infer<typeof Size>;

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

const Banded = z.union([Quantity, z.tuple([Quantity, Quantity, Quantity])], { error: 'a figure with its unit, or three: low, middle, high' });
const BothWays = z.union([Banded, entry({ warp: Banded, weft: Banded })], { error: 'a figure with its unit, or {"warp": ..., "weft": ...}' });
export const MaterialForm = entry({
  name: z.string({ error: 'text' }).optional(),
  like: Name.optional().meta({ description: 'built-in material that fills what is not given here' }),
  mass: Quantity,
  thickness: Quantity.optional(),
  bending: BothWays.optional().meta({ description: 'flexural rigidity per width' }),
  overhang: BothWays.optional().meta({ description: 'overhang of a strip at 41.5 degrees' }),
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
  load: z.union([Quantity, LoadForm], { error: 'a mass such as "2 kg", or {"mass": "2 kg", "fill": 0.5}' }).optional(),
});
export type StanceForm = z.infer<typeof StanceForm>;

/** The whole file, for editors that complete and check while typing. */
export const BagForm = entry({
  $schema: z.string({ error: 'text' }).optional().meta({ description: 'where an editor finds this schema; not read' }),
  slumpline: z.literal(1),
  name: z.string({ error: 'text' }).optional(),
  note: z.string({ error: 'text' }).optional(),
  wanted: z.enum(WANTED, { error: `one of ${WANTED.join(', ')}` }).optional(),
  [LARGEST_STRAIN]: z
    .number()
    .optional()
    .meta({ description: 'strain up to which cloth and straps are taken to carry, 0.001 to 1; 0.05 where none is stated' }),
  parameters: z.record(z.string(), Size).optional(),
  panels: z.record(z.string(), PanelForm),
  seams: z.record(z.string(), SeamForm).optional(),
  straps: z.record(z.string(), StrapForm).optional(),
  materials: z.record(z.string(), MaterialForm).optional(),
  stacks: z.record(z.string(), StackForm),
  options: z.record(z.string(), OptionForm),
  stances: z.record(z.string(), StanceForm).optional(),
});

/** JSON schema (draft 2020-12) of the bag file, for editors. Returns a plain object. */
export const bagJsonSchema = (): unknown => z.toJSONSchema(BagForm, { io: 'input' });
