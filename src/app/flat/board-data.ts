import {
  type Bag,
  type BagDocument,
  type Draft,
  draftPanels,
  type FlatLayout,
  flatLayout,
  flatSvg,
  flatten,
  freeStretches,
  type Handle,
  handlesOf,
  type Mend,
  multipleOf,
  partnerOf,
  type SideLengths,
  sideLengths,
  troubles,
} from '../../index.ts';
import { type BoardTrims, trimsOf, trimTroubles } from './board-trims.ts';

export interface Look {
  readonly option: string;
  readonly units: 'metric' | 'inch' | 'both';
  /** Width over height of the place the sheet is shown in. */ readonly aspect?: number;
  /** Its height, px. */ readonly high?: number;
  /** Keeps the panels in place while one is being dragged, with their words as large as they were. */ readonly layout?: FlatLayout;
  readonly text?: number;
}

export interface BoardHandle extends Omit<Handle, 'controls'> {
  readonly controls: readonly (Handle['controls'][number] & { /** Parameter it hangs on, or null. */ readonly follows: string | null })[];
  /** The edge of the finished outline that it stands for: of edges and curves alone. */ readonly edge: string | null;
}

/** One edge as it can be picked. Lengths in m, places in mm of the sheet. */
export interface BoardEdge {
  /** "front.bottom" */ readonly ref: string;
  readonly panel: string;
  readonly edge: string;
  readonly d: string;
  readonly at: readonly [number, number];
  readonly length: number;
  /** Seams that take it up, or part of it. */ readonly seams: readonly string[];
  readonly open: boolean;
  readonly bend: 'line' | 'arc' | 'curve';
  /** The arc of a rounded corner. */ readonly round: boolean;
  /** No seam takes it up, or not all of it. */ readonly free: boolean;
  /** How it is finished, as written; null: nothing is stated. */ readonly finish: BoardFinish | null;
}

/** A finish as it is written: its width as text, the stack of a facing or binding. */
interface BoardFinish {
  readonly finish: string;
  readonly width: string;
  readonly stack: string;
}

/** A line inside a panel, as written: the cloth that its crease takes up ('' where it is not folded), and its turn at rest. */
export interface BoardLine {
  readonly panel: string;
  readonly name: string;
  readonly fold: string;
  readonly angle: string;
}

export interface BoardSeam {
  readonly name: string;
  readonly sides: readonly [string, string];
  readonly lengths: readonly [number, number];
  readonly type: string;
  /** As written; '' where nothing is. */ readonly allowance: string;
  readonly pressed: string;
  readonly gather: string;
}

export interface BoardTrouble {
  readonly text: string;
  readonly fault: boolean;
  readonly panel: string;
  readonly edge: string | null;
  readonly seam: string | null;
  readonly mends: readonly Mend[];
}

/** Everything that the drafting table shows and can take hold of. */
export interface Board {
  /** How many times their usual size words and signs are drawn. */ readonly text: number;
  readonly stacks: readonly string[];
  readonly lines: readonly BoardLine[];
  readonly svg: string;
  readonly layout: FlatLayout;
  readonly panels: readonly string[];
  readonly about: readonly {
    readonly role: string /** Panel whose outline it follows. */;
    readonly follows: string | null /** The panel that a finish can be put on as well. */;
    readonly other: string | null;
  }[];
  readonly handles: readonly BoardHandle[];
  /** Seams at the edges of each handle, by its id. */ readonly lengths: Readonly<Record<string, readonly SideLengths[]>>;
  readonly edges: readonly BoardEdge[];
  readonly seams: readonly BoardSeam[];
  readonly straps: readonly { readonly name: string; readonly width: string; readonly length: string; readonly panels: readonly string[] }[];
  readonly sizes: readonly { readonly name: string; readonly label: string; readonly text: string }[];
  readonly troubles: readonly BoardTrouble[];
  readonly trims: BoardTrims;
}

type Form = Readonly<Record<string, unknown>>;
const record = (v: unknown): Form => (v !== null && typeof v === 'object' && !Array.isArray(v) ? (v as Form) : {});

/** Widths of a row of panels that are tried, m; the one that shows the panels largest is taken. */
const ROWS = [0.5, 0.65, 0.8, 0.95, 1.1, 1.3, 1.55, 1.85, 2.2, 2.7, 3.3, 4];

function bestLayout(draft: Draft, aspect: number, text: number): FlatLayout {
  const layouts = ROWS.map((row) => flatLayout(draft, row, text));
  const scale = (l: FlatLayout): number => Math.min(aspect / Math.max(l.width, 420), 1 / l.height);
  return layouts.reduce((best, l) => (scale(l) > scale(best) * 1.001 ? l : best));
}

/** Pixels that a millimetre of the sheet is shown with. */
const shownAt = (layout: FlatLayout, aspect: number, high: number): number => Math.min((aspect * high) / Math.max(layout.width, 420), high / layout.height);

/** How large words are drawn so that a sheet shown small can be read, and panels laid out with room for them. */
function readable(draft: Draft, look: Look): { readonly layout: FlatLayout; readonly text: number } {
  const aspect = look.aspect ?? 1.8;
  const text = look.layout ? (look.text ?? 1) : Math.min(2.2, Math.max(1, 1 / shownAt(bestLayout(draft, aspect, 1), aspect, look.high ?? 700)));
  return { layout: look.layout ?? bestLayout(draft, aspect, text), text };
}

/** The edge of the outline that a handle stands for, by its name there. */
function edgeOf(bag: Bag, h: Handle): string | null {
  if (h.kind !== 'edge' && h.kind !== 'curve') return null;
  const names = bag.panels.find((p) => p.name === h.panel)?.outline.map((e) => e.name) ?? [];
  const left = h.id.endsWith('(left)');
  const stem = h.kind === 'curve' ? h.edges[0] : h.name.replace(/ \(left\)$/, '');
  return [`${stem} ${left ? 'left' : 'right'}`, stem, 'rim1'].find((n) => names.includes(n)) ?? null;
}

function edgesOf(document: BagDocument, bag: Bag, draft: Draft, layout: FlatLayout): BoardEdge[] {
  return draft.panels.flatMap((panel, p) => {
    const { x, y } = layout.at[p];
    const source = bag.panels[p];
    const place = ([u, v]: readonly [number, number]): [number, number] => [x + 1000 * u, y - 1000 * v];
    const mm = (v: number): string => String(Math.round(v * 100) / 100);
    return panel.edges.map((e, i): BoardEdge => {
      const seams = draft.seams.filter((s) => s.sides.some((side) => side.runs.some((r) => r.panel === p && r.edge === i)));
      const points = [...flatten(e.edge), e.edge.to].map(place);
      return {
        ref: `${panel.name}.${e.name}`,
        panel: panel.name,
        edge: e.name,
        d: `M${points.map(([a, b]) => `${mm(a)} ${mm(b)}`).join('L')}`,
        at: place(e.curve.at(0.5)),
        length: e.length,
        seams: seams.map((s) => s.name),
        open: source.openings.includes(e.name),
        bend: e.edge.kind === 'line' ? 'line' : e.edge.kind === 'arc' ? 'arc' : 'curve',
        free: freeStretches(bag, panel.name, e.name).length > 0,
        finish: finishOf(document, bag, panel.name, e.name),
        round: panel.edges.some((a) => panel.edges.some((b) => plainName(e.name) === `${plainName(a.name)}-${plainName(b.name)}`)),
      };
    });
  });
}

/** What is written of an edge's finish; of the first stretch of it where several are. */
function finishOf(document: BagDocument, bag: Bag, panel: string, edge: string): BoardFinish | null {
  const found = (bag.finishes ?? []).find((f) => f.panel === panel && f.runs.some((r) => r.edge === edge));
  if (!found) return null;
  const form = record(record(record(record(document.value.panels)[panel]).finishes)[found.edge]);
  return { finish: found.finish, width: String(form.width ?? ''), stack: String(form.stack ?? '') };
}

const plainName = (edge: string): string => edge.replace(/ (left|right)$/, '');

function seamsOf(document: BagDocument, draft: Draft): BoardSeam[] {
  const written = record(document.value.seams);
  return draft.seams.map((seam) => {
    const form = record(written[seam.name.replace(/\+\d+$/, '')]);
    const names = (side: 0 | 1): string =>
      [...new Set(seam.sides[side].runs.map((r) => `${draft.panels[r.panel].name}.${draft.panels[r.panel].edges[r.edge].name}`))].join(' + ');
    const word = (key: string): string => (form[key] === undefined || Array.isArray(form[key]) ? '' : String(form[key]));
    return {
      name: seam.name,
      sides: [names(0), names(1)],
      lengths: [seam.sides[0].length, seam.sides[1].length],
      type: word('type'),
      allowance: word('allowance'),
      pressed: word('pressed'),
      gather: word('gather'),
    };
  });
}

/** What the table shows of a bag. Troubles are looked for only when nothing is being dragged. */
export function boardOf(document: BagDocument, bag: Bag, look: Look): Board {
  const draft = draftPanels(bag);
  const { layout, text } = readable(draft, look);
  const handles = handlesOf(document, bag);
  const known = (name: string): boolean => bag.parameters.some((p) => p.name === name);
  const forms = record(document.value.panels);
  return {
    layout,
    text,
    svg: flatSvg(bag, draft, { option: look.option, units: look.units === 'metric' ? 'metric' : 'inch', layout, text }),
    stacks: bag.stacks.map((s) => s.name),
    lines: bag.panels.flatMap((p) =>
      p.lines.map((line): BoardLine => {
        const { fold, angle } = record(record(record(forms[p.name]).lines)[line.name]);
        return { panel: p.name, name: line.name, fold: String(fold ?? ''), angle: String(angle ?? '') };
      }),
    ),
    panels: bag.panels.map((p) => p.name),
    about: bag.panels.map((p) => {
      const { copy, mirror } = record(forms[p.name]);
      return { role: p.role, follows: typeof copy === 'string' ? copy : typeof mirror === 'string' ? mirror : null, other: partnerOf(document, bag, p.name) };
    }),
    handles: handles.map((h) => ({
      ...h,
      edge: edgeOf(bag, h),
      controls: h.controls.map((c) => {
        const link = multipleOf(c.written);
        return { ...c, follows: link && known(link.name) ? link.name : null };
      }),
    })),
    lengths: Object.fromEntries(handles.map((h) => [h.id, sideLengths(bag, draft, h.panel, h.edges)])),
    edges: edgesOf(document, bag, draft, layout),
    seams: seamsOf(document, draft),
    straps: Object.entries(record(document.value.straps)).map(([name, strap]) => ({
      name,
      width: String(record(strap).width ?? ''),
      length: String(record(strap).length ?? ''),
      panels: [...new Set(bag.straps.filter((s) => s.name === name || s.name.startsWith(`${name} on `)).flatMap((s) => s.anchors.map((a) => a.panel)))],
    })),
    sizes: bag.parameters.map((p) => ({ name: p.name, label: p.label ?? '', text: p.text })),
    trims: trimsOf(document, bag, draft),
    troubles: look.layout
      ? []
      : [
          ...troubles(document, bag, draft).map(({ finding: f, fault, mends }) => ({
            // What was expected is told in the file's own words: the buttons say it instead, where there are any.
            text: mends.length > 0 ? (f.found ?? f.text) : f.text,
            fault,
            panel: f.panel,
            edge: f.edge,
            seam: f.seam,
            mends,
          })),
          ...trimTroubles(bag),
        ],
  };
}
