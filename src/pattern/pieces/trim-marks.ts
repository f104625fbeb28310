/** Where hardware, closures and members sit on a piece: marks and their words. */
import { isCord, isPoint, isZip } from '../../bag/index.ts';
import type { Bag, Closure, EdgeRun, Hardware, Member, Point2 } from '../../bag/types.ts';
import { hardwareFigures, memberWords } from '../../material/index.ts';
import { libm } from '../../numerics/index.ts';
import type { DraftPanel } from '../../panels/types.ts';
import { formatMm } from '../../units/index.ts';
import type { PieceLine, Wish } from './types.ts';

/** Marks of a panel, in its own frame. */
export interface Marked {
  readonly lines: PieceLine[];
  readonly wishes: Wish[];
}

/** From point to point along a curve, m. */
const STEP = 0.002;
/** Corners of a drawn circle: a chord leaves one of 50 mm by 0.05 mm. */
const CORNERS = 48;
/** Half a cross in the middle of a part, m. */
const CROSS = 0.0025;
/** The bar at each end of a zip or a member: from the edge inward, m. */
const BAR = [0.0015, 0.007] as const;

const line = (what: string, points: readonly Point2[], closed = false): PieceLine => ({ ink: 'mark', what, points, closed });

/** A word beside a place: above, below, beside, further off. far: m. */
export const beside = (text: string, [x, y]: Point2, far: number): Wish => ({
  text,
  at: [
    [0, far],
    [0, -far],
    [far * 2, 0],
    [-far * 2, 0],
    [0, far * 2],
    [0, -far * 2],
    [far * 4, 0],
    [-far * 4, 0],
  ].map((d): Point2 => [x + d[0]!, y + d[1]!]),
});

const cross = (what: string, [x, y]: Point2): PieceLine[] => [
  line(what, [
    [x - CROSS, y],
    [x + CROSS, y],
  ]),
  line(what, [
    [x, y - CROSS],
    [x, y + CROSS],
  ]),
];
const circle = (what: string, [x, y]: Point2, radius: number): PieceLine =>
  line(
    what,
    Array.from({ length: CORNERS }, (_, i): Point2 => {
      const a = (2 * Math.PI * i) / CORNERS;
      return [x + radius * libm.cos(a), y + radius * libm.sin(a)];
    }),
    true,
  );

/** A part seen from the face: its outline, true to size, and the cross that it is set on. */
function hardwareLines(h: Hardware, at: Point2): PieceLine[] {
  const { size } = hardwareFigures(h),
    what = `${h.name}: ${h.kind}`;
  if (size === 0) return cross(what, at);
  const [x, y] = at;
  switch (h.kind) {
    case 'corner plate':
      return [
        line(
          what,
          [
            [x, y],
            [x + size, y],
            [x, y + size],
          ],
          true,
        ),
      ];
    case 'buckle':
    case 'slider':
    case 'clasp':
      return [
        ...cross(what, at),
        line(
          what,
          [
            [x - size / 2, y - size / 3],
            [x + size / 2, y - size / 3],
            [x + size / 2, y + size / 3],
            [x - size / 2, y + size / 3],
          ],
          true,
        ),
      ];
    default:
      return [...cross(what, at), circle(what, at, size / 2)];
  }
}

/** "magnet, 18 mm"; of one with a name of its own "front snap: snap, 15 mm". */
const named = (name: string, kind: string, size: number): string => `${name === kind ? kind : `${name}: ${kind}`}${size > 0 ? `, ${formatMm(size)}` : ''}`;

/** A place of an edge, and those `far` inside of it, m. */
function onEdge(panel: DraftPanel, name: string) {
  const edge = panel.edges.find((e) => e.name === name)!,
    side = edge.clothOnLeft ? 1 : -1;
  return {
    length: edge.length,
    at: (u: number, far: number): Point2 => {
      const [x, y] = edge.curve.at(u),
        [tx, ty] = edge.curve.tangent(u);
      return [x - side * ty * far, y + side * tx * far];
    },
  };
}

/** Bars at both ends of a stretch, and the word at its middle. short: m left out at each end. */
function stretchMarks(panel: DraftPanel, run: EdgeRun, what: string, short: number): Marked {
  const edge = onEdge(panel, run.edge),
    skip = Math.min(short / edge.length, (run.to - run.from) / 2);
  const ends = [run.from + skip, run.to - skip];
  const spots = [0.5, 0.35, 0.65, 0.2, 0.8].map((u) => run.from + (run.to - run.from) * u);
  return {
    lines: ends.map((u) => line(what, [edge.at(u, BAR[0]), edge.at(u, BAR[1])])),
    wishes: [{ text: what, at: [0.011, 0.016, 0.022, 0.03].flatMap((far) => spots.map((u) => edge.at(u, far))) }],
  };
}

function closureMarks(c: Closure, panel: DraftPanel): Marked[] {
  const own = (runs: readonly EdgeRun[]): readonly EdgeRun[] => runs.filter((r) => r.panel === panel.name);
  if (isPoint(c))
    return c.ends
      .filter((e) => e.panel === panel.name)
      .map(({ at }) => ({
        lines: [...cross(named(c.name, c.kind, c.size), at), circle(named(c.name, c.kind, c.size), at, c.size / 2)],
        wishes: [beside(named(c.name, c.kind, c.size), at, c.size / 2 + 0.004)],
      }));
  if (isZip(c)) return own(c.sides.flat()).map((run) => stretchMarks(panel, run, named(c.name, c.kind, 0), 0));
  if (!isCord(c)) return [];
  return own(c.along).map((run): Marked => {
    const edge = onEdge(panel, run.edge),
      many = Math.max(2, Math.ceil(((run.to - run.from) * edge.length) / STEP));
    const what = `channel of the ${named(c.name, c.kind, 0)}`;
    const spots = [0.5, 0.35, 0.65, 0.2, 0.8].map((u) => run.from + (run.to - run.from) * u);
    return {
      lines:
        c.below === 0
          ? []
          : [
              line(
                what,
                Array.from({ length: many + 1 }, (_, i) => edge.at(run.from + ((run.to - run.from) * i) / many, c.below)),
              ),
            ],
      wishes: [{ text: what, at: [0.005, -0.005, 0.01, -0.01].flatMap((far) => spots.map((u) => edge.at(u, c.below + far))) }],
    };
  });
}

function memberMarks(m: Member, bag: Bag, panel: DraftPanel): Marked[] {
  const what = `${m.name}: ${memberWords(m)}`;
  const drawn = (m.lines ?? [])
    .filter((l) => l.panel === panel.name)
    .map(({ line: name }): Marked => {
      const { points } = bag.panels.find((p) => p.name === panel.name)!.lines.find((l) => l.name === name)!;
      return { lines: [], wishes: [beside(what, points[points.length >> 1]!, 0.005)] };
    });
  const edges = m.runs.filter((r) => r.panel === panel.name).map((run) => stretchMarks(panel, run, what, m.stopsShort));
  // One word names all stretches of one member.
  return [...drawn, ...edges.map((e, i) => (i === 0 ? e : { ...e, wishes: [] }))];
}

/** Marks of everything that is set on or along a panel, in its frame. */
export function trimMarks(bag: Bag, panel: DraftPanel): Marked {
  const hardware = (bag.hardware ?? [])
    .filter((h) => h.panel === panel.name)
    .map((h): Marked => {
      const { size } = hardwareFigures(h);
      return {
        lines: h.at.flatMap((at) => hardwareLines(h, at)),
        wishes: h.at.map((at) => beside(named(h.name, h.kind, size), at, size / 2 + 0.004)),
      };
    });
  const all = [...hardware, ...(bag.closures ?? []).flatMap((c) => closureMarks(c, panel)), ...(bag.members ?? []).flatMap((m) => memberMarks(m, bag, panel))];
  return { lines: all.flatMap((m) => m.lines), wishes: all.flatMap((m) => m.wishes) };
}
