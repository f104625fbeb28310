/** The written form of panels: outlines, holes, regions, lines, topstitching, clips. */
import { z } from 'zod';
import { entry, Name, Place, Point, Quantity, Size } from './schema-base.ts';
import { FINISHES, ROLES } from './words.ts';

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

const finish = {
  finish: z.enum(FINISHES, { error: `one of ${FINISHES.join(', ')}` }),
  width: Size.optional().meta({ description: 'finished width on the panel: 25-40 mm on the hem of a tote; of every finish but a raw edge' }),
  stack: Name.optional().meta({ description: "stack of the facing or binding, the panel's own shell when left out" }),
  mitre: z.boolean({ error: 'true or false' }).optional().meta({ description: 'a turned edge that runs round a corner is cut there at 45 degrees' }),
};
const Finish = entry({
  ...finish,
  'in leather': entry(finish)
    .optional()
    .meta({ description: 'instead where an option makes the panel of leather, such as {"finish": "turned once", "width": "12 mm"}' }),
});
export type FinishForm = z.infer<typeof Finish>;

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
  finishes: z.record(z.string(), Finish, { error: 'edges, chains or stretches, each with its finish' }).optional().meta({
    description: 'how open edges are finished, such as {"top": {"finish": "turned twice", "width": "30 mm"}}: what is turned in weighs and stiffens',
  }),
  pose: entry({ origin: z.tuple([Size, Size, Size], { error: 'a point [x, y, z]' }), x: Axis, y: Axis }).optional(),
});
export type PanelForm = z.infer<typeof PanelForm>;
export type CornerForm = z.infer<typeof Corner>;
export type HoleForm = z.infer<typeof Hole>;
export type RegionForm = z.infer<typeof Region>;
export type RectangleForm = z.infer<typeof Rectangle>;
