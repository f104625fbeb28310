import { LIMITS, strapFamily, stripAlong } from '../../bag/index.ts';
import type { Bag, EdgeRun, Layer, Panel, Region, Stack } from '../../bag/types.ts';
import { levelLimits, rankSingleChanges, type SingleChange } from '../../report/index.ts';
import { formatMass, formatMm } from '../../units/index.ts';
import { runSeries, type Series } from '../series.ts';
import { type Hung, hanging } from './hang-once.ts';
import { carrying, plan, type SweepOptions } from './plan.ts';

/** Longer straps that are tried, m: the first that hangs level ends it. */
const LONGER = [0.04, 0.08, 0.12] as const;
/** Height of the strip along the mouth that is stiffened, m, and the webbing that is sewn in. Common practice, no source. */
const STRIP = 0.025;
const TAPE = 'web_cotton';
/** Shares of the loose load that are tried, greatest first: the first that hangs level ends it. */
const LIGHTER = [2 / 3, 1 / 2, 1 / 4] as const;
const WALLS = new Set(['front', 'back', 'side', 'gusset', 'body']);

type Tried = Omit<SingleChange, 'step'> & { readonly bag: Bag; readonly stance: Hung };

/** What single changes are tried on. */
export type SingleChangeOptions = Omit<SweepOptions, 'from' | 'to' | 'steps'> & { readonly load?: number };

/**
 * Single changes of a bag that hangs level nowhere, each hung by itself as drawn: a longer strap, a rim stiffened by a turned hem, and by a tape, a lighter load. Ranked: see
 * rankSingleChanges. Options and errors as sweepAnchors (from, to and steps are not used).
 */
export const singleChanges = (bag: Bag, o: SingleChangeOptions): readonly SingleChange[] => runSeries(singleChangeSeries(bag, o), o.onProgress);

/** The hangings that singleChanges asks for: of longer straps and of lighter loads, one after another until one hangs level. Throws as it does. */
export function singleChangeSeries(bag: Bag, o: SingleChangeOptions): Series<readonly SingleChange[]> {
  const { same, stance: own } = plan(bag, { ...o, from: 0, to: 0, steps: 1 }, 'distance', LIMITS.length);
  const stance = o.load === undefined ? own : carrying(own, o.load);
  const groups = [longerStraps(bag, stance, same.strap), ...stiffRims(bag, stance, same.option).map((t) => [t]), lighterLoads(bag, stance)];
  const hung: SingleChange[][] = groups.map(() => []);
  const chains = groups.map((group, g) =>
    group.map(({ bag: changed, stance: on, ...told }) =>
      hanging(changed, on, same, told.change, (step) => {
        hung[g]!.push({ ...told, step });
        return !step.level;
      }),
    ),
  );
  return { chains, result: () => rankSingleChanges(hung.flat(), levelLimits(bag.wanted)) };
}

function longerStraps(bag: Bag, stance: Hung, strap: string): Tried[] {
  const family = strapFamily(bag, strap);
  return LONGER.map((by) => ({
    change: `strap ${formatMm(by)} longer`,
    kind: 'strap' as const,
    amount: by,
    stance,
    bag: { ...bag, straps: bag.straps.map((s) => (family.includes(s) ? { ...s, length: s.length + by } : s)) },
  }));
}

const loose = (material: string): Layer => ({ material, thickness: null, thicknessRange: null, join: 'loose', bond: null, angle: 0 });

/** The mouth's strip turned twice in its own cloth, and with a webbing sewn in. */
function stiffRims(bag: Bag, stance: Hung, option: string): Tried[] {
  const ways = [
    {
      change: `rim stiffened by a hem turned twice, ${formatMm(STRIP)} high`,
      more: ([shell]: readonly Layer[]) =>
        shell
          ? [
              { ...shell, join: 'loose' as const },
              { ...shell, join: 'loose' as const },
            ]
          : [],
    },
    { change: `rim stiffened by a cotton tape sewn in, ${formatMm(STRIP)} high`, more: () => [loose(TAPE)] },
  ];
  return ways.flatMap(({ change, more }) => {
    const made = withRim(bag, option, change, more);
    return made ? [{ change, kind: 'rim' as const, amount: STRIP, stance, bag: made }] : [];
  });
}

/** The bag with a strip along every mouth edge of its walls, of what lies there now and more; null where no mouth edge has layers. */
function withRim(bag: Bag, optionName: string, name: string, more: (layers: readonly Layer[]) => readonly Layer[]): Bag | null {
  const option = bag.options.find((o) => o.name === optionName);
  if (!option) return null;
  const stacks: Stack[] = [],
    regions: Record<string, string> = { ...option.regions };
  const panels = bag.panels.map((panel): Panel => {
    if (!WALLS.has(panel.role)) return panel;
    const strips = panel.openings.flatMap((opening): Region[] => {
      const runs = (panel.chains[opening] ?? [opening]).map((edge): EdgeRun => ({ panel: panel.name, edge, from: 0, to: 1 })),
        outline = stripOf(runs, panel);
      // What lies along the mouth now: a hem that reaches it, else the panel's own stack.
      const hem = panel.regions.find((r) => outline && reaches(r.outline, outline)),
        base = hem ? (option.regions[`${panel.name}/${hem.name}`] ?? hem.stack) : option.stacks[panel.name],
        stack = bag.stacks.find((s) => s.name === base);
      if (!outline || stack?.kind !== 'layers') return [];
      const own = `${stack.name} / ${name}`;
      if (!stacks.some((s) => s.name === own)) stacks.push({ name: own, kind: 'layers', layers: [...stack.layers, ...more(stack.layers)] });
      const region = `${opening} / ${name}`;
      regions[`${panel.name}/${region}`] = own;
      return [{ name: region, stack: own, outline }];
    });
    return strips.length === 0 ? panel : { ...panel, regions: [...panel.regions, ...strips] };
  });
  if (stacks.length === 0) return null;
  return { ...bag, panels, stacks: [...bag.stacks, ...stacks], options: bag.options.map((o) => (o === option ? { ...o, regions } : o)) };
}

function stripOf(runs: readonly EdgeRun[], panel: Panel): Region['outline'] | null {
  try {
    const { outer, inner } = stripAlong(runs, panel.outline, STRIP);
    return [...outer, ...inner.reverse()];
  } catch {
    // A mouth that closes round its whole panel has no such strip.
    return null;
  }
}

/** Does the region's outline hold both ends of the strip's outer line, to a tenth of a millimetre? */
const reaches = (region: Region['outline'], strip: Region['outline']): boolean =>
  Math.abs(Math.max(...region.map((p) => p[1])) - Math.max(...strip.map((p) => p[1]))) < 1e-4;

/** 2 kg instead of 3: rounded to a quarter of a kilogram where that leaves something. */
function lighterLoads(bag: Bag, stance: Hung): Tried[] {
  const mass = stance.load?.mass ?? 0;
  const tried = LIGHTER.map((share) => {
    const quarters = Math.round(4 * share * mass) / 4;
    return quarters > 0 && quarters < mass ? quarters : share * mass;
  });
  return mass === 0
    ? []
    : tried.map((to) => ({
        change: `${formatMass(to)} instead of ${formatMass(mass)} inside`,
        kind: 'load' as const,
        amount: mass - to,
        stance: carrying(stance, to),
        bag,
      }));
}
