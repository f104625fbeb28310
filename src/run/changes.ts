import { type Bag, BagError, type BagOption, type Layer, type Panel, type Stack, type Stance } from '../bag/types.ts';
import { materialBands } from '../material/index.ts';
import { type ChangeEffect, type ChangeReport, type Effect, leadRun } from '../report/index.ts';
import type { Result } from '../report/types.ts';
import { type TrimChange, trimsToTry, WALLS } from './change-trims.ts';
import { assertKnown, SERIES_KEYS } from './known-options.ts';
import { coarseEdge } from './mesh-size.ts';
import type { SeriesProgress, Told } from './progress.ts';
import { quickLook, runSeries, type Series, type Step } from './series.ts';

/** What changes are tried on. */
export interface ChangeOptions {
  readonly option?: string;
  readonly stance?: string;
  /** m; default coarseEdge(bag), about 650 points */ readonly edgeLength?: number;
  /** Told where the work is; returning false cancels. */ readonly onProgress?: Told<SeriesProgress>;
}

/** Interfacings tried behind the shell of the walls, weakest first: one of each kind that shops sell (common practice, no source). */
const FUSED = ['fus_light', 'fus_woven', 'fus_heavy', 'fleece', 'nwboard'] as const;
/** Board laid loose into the base. */
const BOARD = 'pp1';
/** A thicker or thinner hide, as a share of the thickness in hand: about one step of a tannery's list (common practice, no source). */
const STEP = 0.25;

/** One single change: which panels, and the new layers of a stack. */
interface Candidate {
  readonly change: string;
  readonly material: string;
  readonly panels: readonly string[];
  /** null: this stack is not changed by it. */ readonly layers: (layers: readonly Layer[]) => readonly Layer[] | null;
  /** What is put on instead of a change of layers. */ readonly trim?: TrimChange;
}

const added = (material: string, join: Layer['join']): Layer => ({ material, thickness: null, thicknessRange: null, join, bond: null, angle: 0 });
const nameOf = (bag: Bag, id: string): string => bag.materials.find((m) => m.id === id)?.name ?? materialBands(id)?.name ?? id;

function candidates(bag: Bag, option: BagOption, stance: Stance): Candidate[] {
  const stackOf = (p: Panel): Stack | undefined => bag.stacks.find((s) => s.name === option.stacks[p.name]);
  const layersOf = (p: Panel): readonly Layer[] => {
    const stack = stackOf(p);
    return stack?.kind === 'layers' ? stack.layers : [];
  };
  const named = (list: readonly Panel[]) => list.map((p) => p.name);
  const walls = bag.panels.filter((p) => WALLS.has(p.role)),
    bases = bag.panels.filter((p) => p.role === 'base');
  const has = (panels: readonly Panel[], id: string) => panels.some((p) => layersOf(p).some((l) => l.material === id));
  const out: Candidate[] = [];
  const behindShell =
    (layer: Layer) =>
    ([shell, ...rest]: readonly Layer[]): readonly Layer[] => [shell!, layer, ...rest];
  for (const id of FUSED)
    if (walls.length > 0 && !has(walls, id))
      out.push({ change: `fuse ${nameOf(bag, id)} behind the walls`, material: id, panels: named(walls), layers: behindShell(added(id, 'fused')) });
  if (bases.length > 0 && !has(bases, BOARD))
    out.push({ change: `lay ${nameOf(bag, BOARD)} into the base`, material: BOARD, panels: named(bases), layers: behindShell(added(BOARD, 'loose')) });
  // What lies between shell and lining can be left out; each material once, wherever it is.
  const inner = new Set(bag.panels.flatMap((p) => layersOf(p).slice(1)).map((l) => l.material));
  for (const id of inner) {
    const panels = bag.panels.filter((p) =>
      layersOf(p)
        .slice(1)
        .some((l) => l.material === id),
    );
    out.push({
      change: `leave out ${nameOf(bag, id)}`,
      material: id,
      panels: named(panels),
      layers: ([shell, ...rest]) => (rest.some((l) => l.material === id) ? [shell!, ...rest.filter((l) => l.material !== id)] : null),
    });
  }
  for (const trim of trimsToTry(bag, stance)) out.push({ change: trim.change, material: trim.material, panels: trim.panels, layers: () => null, trim });
  const shells = new Set(walls.flatMap((p) => layersOf(p).slice(0, 1)).map((l) => l.material));
  for (const id of shells) {
    const hide = materialBands(id);
    if (hide?.family !== 'leather') continue;
    const panels = bag.panels.filter((p) => layersOf(p)[0]?.material === id);
    for (const [word, by] of [
      ['thicker', 1 + STEP],
      ['thinner', 1 - STEP],
    ] as const)
      out.push({
        change: `shell ${STEP * 100} % ${word} (${hide.name})`,
        material: id,
        panels: named(panels),
        layers: ([shell, ...rest]) =>
          shell?.material === id ? [{ ...shell, thickness: (shell.thickness ?? hide.thickness[1]) * by, thicknessRange: null }, ...rest] : null,
      });
  }
  return out;
}

/** The bag with an option more, in which one change is made; regions keep their own stacks. null when it changes nothing. */
function changed(bag: Bag, option: BagOption, c: Candidate): { bag: Bag; option: string } | null {
  if (c.trim) {
    const { members, hardware } = c.trim;
    return {
      option: option.name,
      bag: {
        ...bag,
        ...(members ? { members: [...(bag.members ?? []), ...members] } : {}),
        ...(hardware ? { hardware: [...(bag.hardware ?? []), ...hardware] } : {}),
      },
    };
  }
  const stacks: Stack[] = [];
  const own: Record<string, string> = { ...option.stacks };
  for (const panel of c.panels) {
    const stack = bag.stacks.find((s) => s.name === option.stacks[panel]);
    if (stack?.kind !== 'layers') continue;
    const layers = c.layers(stack.layers);
    if (!layers) continue;
    const name = `${stack.name} / ${c.change}`;
    if (!stacks.some((s) => s.name === name)) stacks.push({ name, kind: 'layers', layers });
    own[panel] = name;
  }
  if (stacks.length === 0) return null;
  const name = `${option.name} / ${c.change}`;
  return { option: name, bag: { ...bag, stacks: [...bag.stacks, ...stacks], options: [...bag.options, { ...option, name, stacks: own }] } };
}

function effectOf(result: Result): Effect {
  const run = leadRun(result.runs);
  const { word, reason, meetsWanted, fit, margin } = result.verdict;
  const { rimHeight, baseSag } = run.measures;
  return {
    word,
    reason,
    meetsWanted,
    fit,
    margin: Number.isFinite(margin) ? margin : null,
    rimHeight,
    baseSag,
    massKg: result.massKg,
    status: run.status,
    residual: run.residual,
  };
}

/**
 * How far a way of making the bag is from the wanted look, in margins: of one too soft for it what its margin lacks, of one too stiff for soft or slouchy
 * what it has too much; without a verdict, farthest of all.
 */
function lacks(e: Effect): number {
  if (e.margin === null) return Number.POSITIVE_INFINITY;
  return e.fit === 'too stiff' ? e.margin : -e.margin;
}

/** Meeting what is wanted first (the lighter the better), then what lacks least of it; ties go to the lighter. */
function inOrder(a: ChangeEffect, b: ChangeEffect): number {
  const place = (e: Effect) => (e.meetsWanted === true ? 0 : e.margin === null ? 2 : 1);
  const [p, q] = [place(a.effect), place(b.effect)];
  if (p !== q) return p - q;
  if (p === 0 && a.effect.massKg !== b.effect.massKg) return a.effect.massKg - b.effect.massKg;
  const [s, t] = [lacks(a.effect), lacks(b.effect)];
  return s === t ? a.effect.massKg - b.effect.massKg : s - t;
}

/**
 * What to change: every single change of one option's stacks (an interfacing behind the walls, a board in the base, a layer left out, a thicker or thinner
 * hide) and of what is on it (a cord, boning or wire in the rim, piped seams, feet), settled by itself, ranked. Middle of the band, no nudge, one coarse mesh
 * for all, because there are many and only their differences are asked for: it ranks, and what is chosen is then settled as a whole.
 * Deterministic. Throws BagError for an unknown option or stance or when no stack is made of layers, Cancelled when onProgress returned false.
 */
export const rankChanges = (bag: Bag, o: ChangeOptions = {}): ChangeReport => {
  assertKnown(o, SERIES_KEYS);
  return runSeries(changeSeries(bag, o), o.onProgress);
};

/** The previews that rankChanges asks for. Throws as it does. */
export function changeSeries(bag: Bag, o: ChangeOptions): Series<ChangeReport> {
  const edgeLength = o.edgeLength ?? coarseEdge(bag);
  const option = bag.options.find((x) => x.name === (o.option ?? bag.options[0]!.name));
  const stance = bag.stances.find((x) => x.name === (o.stance ?? bag.stances[0]!.name));
  if (!option || !stance) {
    const listed = (list: readonly { readonly name: string }[]) => `one of ${list.map((x) => `"${x.name}"`).join(', ')}`;
    throw new BagError([
      ...(option ? [] : [{ path: 'options', got: JSON.stringify(o.option), expected: listed(bag.options) }]),
      ...(stance ? [] : [{ path: 'stances', got: JSON.stringify(o.stance), expected: listed(bag.stances) }]),
    ]);
  }
  const tries = candidates(bag, option, stance).flatMap((c) => {
    const made = changed(bag, option, c);
    return made ? [{ c, made }] : [];
  });
  if (tries.length === 0)
    throw new BagError([{ path: `options.${option.name}`, got: 'stacks that are not made of layers', expected: 'at least one stack of layers to change' }]);
  const runs = tries.length + 1;
  const effects: Effect[] = [];
  const step = (of: Bag, name: string, i: number, lead: string): readonly Step[] => [
    {
      run: `${i + 1} of ${runs}, ${lead}`,
      job: { bag: of, options: quickLook(name, stance.name, edgeLength) },
      answered: (answer) => {
        // The same pattern in the same stance: what one of them cannot be, none can.
        if (answer instanceof BagError) throw answer;
        effects[i] = effectOf(answer);
        return true;
      },
    },
  ];
  return {
    chains: [step(bag, option.name, 0, 'as drawn'), ...tries.map(({ c, made }, i) => step(made.bag, made.option, i + 1, c.change))],
    result: () => ({
      bag: bag.name,
      option: option.name,
      stance: stance.name,
      hung: stance.kind === 'hung',
      wanted: bag.wanted,
      edgeLength,
      runs,
      asDrawn: effects[0]!,
      changes: tries.map(({ c }, i): ChangeEffect => ({ change: c.change, material: c.material, panels: c.panels, effect: effects[i + 1]! })).sort(inOrder),
    }),
  };
}
