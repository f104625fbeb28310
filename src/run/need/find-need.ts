import { nearestWord, WANTED } from '../../bag/index.ts';
import { type Bag, BagError, type Fault, type PanelRole, type Wanted } from '../../bag/types.ts';
import { layUp, overhangUpright, rigidityAlong } from '../../material/index.ts';
import type { BagLaminates, Band } from '../../material/types.ts';
import { alike } from '../../numerics/index.ts';
import type { NeedPanels, NeedReport, NeedSearch, NeedStack, NeedStance } from '../../report/index.ts';
import { assertKnown, NEED_KEYS } from '../known-options.ts';
import { coarseEdge } from '../mesh-size.ts';
import { forward, type PreviewProgress, type SeriesProgress, type Told } from '../progress.ts';
import { groupsOf, panelsOf, refuse } from './scaled.ts';
import { onFinerMesh, rungOf, type Subject, search, settleNow } from './search.ts';
import { likelyRung } from './start.ts';

/** What is asked for. */
export interface NeedOptions {
  readonly option?: string;
  /** One stance, or 'all': each that stands or hangs. Default: the file's first. */ readonly stance?: string;
  /** Panels whose stacks are made stiffer or softer together; default all. */ readonly panels?: readonly string[] | 'all';
  /** Default: as the file wants it. */ readonly wanted?: Wanted;
  /** Also each group of these panels alone, the others as the option has them. Default false. */ readonly eachPanel?: boolean;
  /** Does what stiffens the panels weigh as a nonwoven interfacing would (material/stiffened.ts)? Default 'stays'. */ readonly mass?: 'stays' | 'grows';
  /** Also with a soft bolt. Default true. */ readonly softBolt?: boolean;
  /** m; default coarseEdge(bag), about 650 points. Both ends are settled once more with 1.5 times as many. */ readonly edgeLength?: number;
  /** Told where the work is; returning false cancels. */ readonly onProgress?: Told<NeedProgress>;
}

/** Where a search is: which bag is being settled. */
export interface NeedProgress extends SeriesProgress {
  /** How many times as stiff as the option has them the panels are. */ readonly factor: number;
  readonly band: Band;
  /** The one group of panels that is changed; null: all that were asked for. */ readonly alone: readonly string[] | null;
  /** Is it a settle on the finer mesh? */ readonly finer: boolean;
}

const ALL = 'all';
/** Settles that one search is likely to take: for its progress alone. */
const LIKELY = { mid: 9, low: 5 } as const;

/**
 * The least bending rigidity of the asked panels' stacks at which the bag is what is wanted, found by settling: D11, D22, D12 and D66 of the panels and their regions times one
 * factor, in-plane stiffness and what lies in seam allowances as the option has them, and so the mass unless it grows. A ladder of factors 7 % apart is climbed in strides from the option's own stacks,
 * or from where walls that are far too soft may hold, then halved: both sides of the answer are settled states with their words, the gap between them is its uncertainty on this mesh. Then the two on a finer mesh, and the same with a
 * soft bolt. For slouchy and soft the most as well. No state starts from another, so the order of tries has no part in any word. Deterministic.
 * Throws BagError with every fault of the choice or where a stance has nothing to judge, Cancelled when onProgress returned false.
 */
export function findNeed(bag: Bag, o: NeedOptions = {}): NeedReport {
  assertKnown(o, NEED_KEYS);
  return needQuestion(bag, o)({ settle: settleNow, attempt: (search) => search() })!;
}

/** Who answers a question. */
export interface Asking {
  /** Settles, or looks up what was settled elsewhere. */ readonly settle: Subject['settle'];
  /** Hears of what will be asked whatever the next answers are. */ readonly ahead?: Subject['ahead'];
  /** One search, which depends on no other; null where it waits for an answer. */ readonly attempt: <T>(search: () => T) => T | null;
}

/**
 * What findNeed asks, as a function of who answers. It may be asked again and again, as more answers are there, and gives the report once none is missing; null before. Throws as findNeed.
 */
export function needQuestion(bag: Bag, o: NeedOptions): (asking: Asking) => NeedReport | null {
  const { option, stances, panels, wanted, mass } = chosen(bag, o);
  const edgeLength = o.edgeLength ?? coarseEdge(bag);
  const lays = { low: layUp(bag, option, 'low'), mid: layUp(bag, option, 'mid') };
  const oneFigure = o.softBolt === false || alike(lays.low, lays.mid);
  const stacks = { mid: stacksOf(bag, option, panels, lays.mid, 'mid'), low: stacksOf(bag, option, panels, lays.low, 'low') };
  const groups = o.eachPanel === true ? groupsOf(bag, panels) : [];
  const likely = stances.length * (LIKELY.mid + (oneFigure ? 0 : LIKELY.low) + groups.length * LIKELY.mid);
  /** Asked again and again, so drafted once. */
  const startOf = remembered((stance: NeedStance['stance'], of: readonly string[], band: 'low' | 'mid') =>
    likelyRung(bag, of, lays[band], stances.find((s) => s.name === stance)!, wanted),
  );
  let begun = 0;
  const tell = forward(o.onProgress);
  const subjectOf = (asking: Asking, stance: string, lead: string, alone: readonly string[] | null): Subject => ({
    bag: { ...bag, wanted },
    option,
    stance,
    panels: alone ?? panels,
    edgeLength,
    mass,
    settling: (factor, finer) => {
      const what = `${finer ? 'on a finer mesh, ' : ''}${Number(factor.toPrecision(3))} times the rigidity`,
        run = [stances.length > 1 ? stance : '', lead, what].filter((w) => w !== '').join(', '),
        before = begun++;
      return ({ stage, band, fraction, positions }: PreviewProgress) =>
        tell({ run, stage, positions, factor, band, alone, finer, fraction: (before + fraction) / Math.max(likely, before + 2) });
    },
    settle: asking.settle,
    ...(asking.ahead ? { ahead: asking.ahead } : {}),
  });
  return (asking) => {
    let [runs, vertices] = [0, 0];
    const counted: Asking = {
      ...asking,
      settle: (of) => {
        runs++;
        return asking.settle(of);
      },
    };
    const subject = (stance: string, lead: string, alone: readonly string[] | null = null): Subject => subjectOf(counted, stance, lead, alone);
    const found = stances.map((stance): NeedStance | null => {
      const own = subject(stance.name, '');
      const mid = asking.attempt(() => {
        const made = search(own, 'mid', { start: startOf(stance.name, panels, 'mid'), near: false });
        assertJudged(made, stance.name);
        return made;
      });
      if (mid === null) return null;
      vertices = mid.vertices;
      const finer = asking.attempt(() => onFinerMesh(own, mid));
      // A soft bolt needs about the rigidity that a typical one does: its own figures begin there.
      const low = oneFigure
        ? null
        : asking.attempt(() =>
            search(subject(stance.name, 'a soft bolt'), 'low', {
              start:
                mid.least === null ? startOf(stance.name, panels, 'low') : rungOf((mid.least.met.factor * stacks.mid[0]!.rigidity) / stacks.low[0]!.rigidity),
              near: mid.least !== null,
            }),
          );
      if (finer === null || (low === null && !oneFigure)) return null;
      return { stance: stance.name, hung: stance.kind === 'hung', mid: plain(finer), low: low && plain(low) };
    });
    const alone = stances.flatMap((stance) =>
      groups.length < 2
        ? []
        : groups.map((group): NeedPanels | null => {
            const made = asking.attempt(() =>
              search(subject(stance.name, `${group.join(', ')} alone`, group), 'mid', { start: startOf(stance.name, group, 'mid'), near: false }),
            );
            return made && { panels: group, stance: stance.name, search: plain(made) };
          }),
    );
    const there = <T>(list: readonly (T | null)[]): list is readonly T[] => list.every((x) => x !== null);
    return there(found) && there(alone) ? reportOf(found, alone, runs, vertices) : null;
  };

  function reportOf(found: readonly NeedStance[], alone: readonly NeedPanels[], runs: number, vertices: number): NeedReport {
    // What meets at its softest needs nothing; what nothing helps needs more than there is.
    const need = ({ search: { least, tries } }: NeedPanels): number => least?.met.factor ?? (tries[0]!.side === 'meets' ? 0 : Number.POSITIVE_INFINITY);
    return {
      bag: bag.name,
      option,
      wanted,
      panels,
      every: panels.length === bag.panels.length,
      edgeLength,
      mass,
      softBolt: o.softBolt !== false,
      vertices,
      runs,
      stacks: oneFigure ? stacks.mid : [...stacks.mid, ...stacks.low],
      stances: found,
      alone: [...alone].sort((a, b) => (need(a) === need(b) ? 0 : need(a) - need(b))),
    };
  }
}

/** A function of plain data that works each answer out once. */
function remembered<A extends readonly unknown[], B>(of: (...asked: A) => B): (...asked: A) => B {
  const known = new Map<string, B>();
  return (...asked) => {
    const key = JSON.stringify(asked);
    if (!known.has(key)) known.set(key, of(...asked));
    return known.get(key)!;
  };
}

const plain = ({ band, least, most, met, tries, odd }: NeedSearch): NeedSearch => ({ band, least, most, met, tries, odd });

/** Everything asked, looked up; throws every fault at once. */
function chosen(bag: Bag, o: NeedOptions) {
  const faults: Fault[] = [];
  const oneOf = (list: readonly { readonly name: string }[]): string => `one of ${list.map((x) => `"${x.name}"`).join(', ')}`;
  const option = o.option === undefined ? bag.options[0] : bag.options.find((x) => x.name === o.option);
  if (!option) faults.push({ path: 'options', got: JSON.stringify(o.option), expected: oneOf(bag.options) });
  const stances = o.stance === ALL ? bag.stances.filter((s) => s.kind !== 'held') : bag.stances.filter((s) => s.name === (o.stance ?? bag.stances[0]?.name));
  if (stances.length === 0) {
    const some = o.stance === ALL;
    faults.push({
      path: 'stances',
      got: some ? 'none that stands or hangs' : JSON.stringify(o.stance),
      expected: some ? 'at least one that does' : `${oneOf(bag.stances)}, or "all"`,
    });
  }
  const wanted = o.wanted ?? bag.wanted;
  if (!WANTED.includes(wanted)) {
    const guess = typeof wanted === 'string' ? nearestWord(wanted, WANTED) : null;
    faults.push({
      path: 'wanted',
      got: JSON.stringify(wanted) ?? String(wanted),
      expected: `${WANTED.map((w) => `"${w}"`).join(', ')}${guess === null ? '' : `; did you mean "${guess}"?`}`,
    });
  }
  const panels = panelsOf(bag, o.panels, faults),
    mass = o.mass ?? 'stays';
  if (mass !== 'stays' && mass !== 'grows') faults.push({ path: 'mass', got: JSON.stringify(mass) ?? String(mass), expected: '"stays" or "grows"' });
  refuse(faults);
  return { option: option!.name, stances, panels, wanted, mass };
}

/** Without a verdict at any rigidity there is nothing to report. */
function assertJudged({ tries }: NeedSearch, stance: string): void {
  if (tries.every((t) => t.side === null))
    throw new BagError([
      { path: `stances.${stance}`, got: `no rest at any of ${tries.length} rigidities`, expected: 'a state that comes to rest; try another mesh' },
    ]);
}

/** Walls first: their overhang is what a maker compares. Within one kind in the order of the file. */
const WALLS: ReadonlySet<PanelRole> = new Set(['front', 'back', 'side', 'gusset', 'body']);

function stacksOf(bag: Bag, option: string, panels: readonly string[], lays: BagLaminates, band: Band): NeedStack[] {
  const own = bag.options.find((o) => o.name === option)!.stacks;
  const out = new Map<string, NeedStack & { panels: string[] }>();
  const isWall = (i: number): number => (WALLS.has(bag.panels[i]!.role) ? 0 : 1);
  const order = bag.panels.map((_, i) => i).sort((a, b) => isWall(a) - isWall(b) || a - b);
  order.forEach((i) => {
    const panel = bag.panels[i]!;
    if (!panels.includes(panel.name)) return;
    const laminate = lays[i]![0]!,
      rigidity = rigidityAlong(laminate, -panel.grain),
      // One stack cut on two grains is two strips.
      key = `${own[panel.name]} ${rigidity}`,
      known = out.get(key);
    if (known) known.panels.push(panel.name);
    else
      out.set(key, {
        stack: own[panel.name]!,
        panels: [panel.name],
        band,
        arealMass: laminate.arealMass,
        rigidity,
        mean: Math.sqrt(laminate.bending[0] * laminate.bending[1]),
        overhang: overhangUpright(laminate, panel),
      });
  });
  return [...out.values()];
}
