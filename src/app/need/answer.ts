/** What a search came to, in a maker's words and in the reader's unit. No page here: words and lengths alone. */
import * as f from '../page/format.ts';
import { text } from '../page/text.ts';
import {
  formatGsm,
  formatInches,
  formatMm,
  formatOzYd2,
  massNeeded,
  type NeedEdge,
  type NeedReport,
  type NeedSearch,
  type NeedStack,
  type NeedTry,
  overhangNeeded,
} from './core.ts';
import { words } from './words.ts';

/** Overhangs of one stack, m. */
export interface Bar {
  readonly label: string;
  readonly has: number;
  readonly needs: number | null;
  readonly most: number | null;
}

/** The answer for one stance with one bolt. */
export interface Part {
  readonly title: string;
  readonly lead: string;
  readonly bars: readonly Bar[];
  readonly lines: readonly string[];
  /** Rigidities, tries and meshes: folded away. */ readonly engineer: readonly string[];
}

/** An overhang as a ruler shows it: to 1/16 in, or to the millimetre. */
export const span = (m: number, units: f.UnitChoice): string => {
  const mm = formatMm(m, 0);
  return units === 'metric' ? mm : units === 'inch' ? formatInches(m, 16) : `${formatInches(m, 16)} (${mm})`;
};

const listed = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')}${words.and}${names[names.length - 1]}`;
const times = (factor: number): string => String(Number(factor.toPrecision(factor < 10 ? 2 : 3)));
const wordOf = (t: NeedTry): string => (t.status === 'settled' ? t.word : words.moving(t.word));

/** Words about one search. Overhangs are those of the walls' stack, which is what a maker compares. */
class Teller {
  readonly stacks: readonly NeedStack[];
  private readonly lead: NeedStack;
  constructor(
    private readonly r: NeedReport,
    private readonly s: NeedSearch,
    private readonly units: f.UnitChoice,
    panels: readonly string[] | null = null,
  ) {
    const own = r.stacks.filter((k) => k.band === s.band);
    this.stacks = panels === null ? own : own.filter((k) => k.panels.some((p) => panels.includes(p)));
    this.lead = this.stacks[0]!;
  }

  metres(factor: number, k: NeedStack = this.lead): number {
    return overhangNeeded(k, factor, this.r.mass);
  }

  at(factor: number): string {
    return span(this.metres(factor), this.units);
  }

  get has(): string {
    return span(this.lead.overhang, this.units);
  }

  private get range(): readonly [string, string] {
    const { tries } = this.s;
    return [this.at(tries[0]!.factor), this.at(tries[tries.length - 1]!.factor)];
  }

  /** Does the stack as it is meet what is wanted in this search? */
  get already(): boolean {
    const { least, most, tries } = this.s;
    if (most && most.met.factor < 1) return false;
    return least ? least.met.factor <= 1 : tries.some((t) => t.factor === 1 && t.side === 'meets');
  }

  /** The answer in a sentence or two. */
  leadLine(): string {
    const { least, tries } = this.s,
      wanted = text.controls.wants[this.r.wanted];
    if (least) {
      const { factor } = least.met;
      if (factor <= 1) return words.leadEnough(this.at(factor), this.has);
      const mass = massNeeded(this.lead, factor, this.r.mass);
      const shown = this.units === 'metric' ? formatGsm(mass) : formatOzYd2(mass);
      return `${words.lead(this.at(factor), this.has)}${mass > this.lead.arealMass * 1.005 ? words.leadWeight(shown.replace('m2', 'm²').replace('yd2', 'yd²')) : ''}`;
    }
    if (this.s.met) return tries[0]!.side === 'meets' ? words.leadAlways(this.range[0]) : words.leadSome;
    if (tries.some((t) => t.side === 'stiff') && tries.some((t) => t.side === 'soft')) return words.leadJump(wanted);
    return words.leadNever(...this.range);
  }

  /** What is said of the stiff end, where what is wanted has one. */
  mostLine(): string {
    const { most, met } = this.s;
    if (most) return most.met.factor < 1 ? words.mostOver(this.at(most.met.factor), this.has) : words.mostLead(this.at(most.met.factor));
    return met ? words.mostNever(this.range[1]) : '';
  }

  certain(edge: NeedEdge): string[] {
    const { met, missed, finer } = edge;
    const both = words.sure(this.at(missed.factor), wordOf(missed), this.at(met.factor), wordOf(met));
    return [both, ...(finer ? [finer.agrees ? words.finerAgrees : words.finerNot] : [])];
  }

  odd(): string[] {
    const { odd } = this.s;
    return odd.length === 0 ? [] : [words.odd(odd.map((t) => words.oddOne(this.at(t.factor), wordOf(t))).join(', '))];
  }

  bars(): Bar[] {
    const { least, most } = this.s;
    return this.stacks.map((k) => ({
      label: this.r.every && this.stacks.length === 1 ? '' : listed(k.panels),
      has: k.overhang,
      needs: least && this.metres(least.met.factor, k),
      most: most && this.metres(most.met.factor, k),
    }));
  }

  engineer(): string[] {
    const { least, most } = this.s;
    const { words: w } = { words };
    const of = (k: NeedStack): string => {
      const edge = least ?? most;
      const who = listed(k.panels);
      if (!edge) return w.rigidityHas(who, k.stack, f.rigidity(k.rigidity));
      return w.rigidity(who, k.stack, f.rigidity(k.rigidity), f.rigidity(k.rigidity * edge.met.factor), times(edge.met.factor));
    };
    return [
      ...this.stacks.map(of),
      ...(least ? [w.gap(f.percent(least.gap))] : []),
      w.tried(this.s.tries.map((t) => `${this.at(t.factor)} ${wordOf(t)}`).join(', ')),
    ];
  }
}

function partOf(r: NeedReport, s: NeedSearch, title: string, units: f.UnitChoice, more: (t: Teller) => readonly string[] = () => []): Part {
  const t = new Teller(r, s, units);
  const ends = (r.wanted === 'slouchy' || r.wanted === 'soft') && s.band === 'mid';
  return {
    title,
    lead: [t.leadLine(), ends ? t.mostLine() : ''].filter((w) => w !== '').join(' '),
    bars: t.bars(),
    lines: [
      ...(s.least ? t.certain(s.least) : []),
      ...(ends && s.most ? t.certain(s.most) : []),
      ...t.odd(),
      ...more(t),
      ...(t.stacks.length > 1 ? [words.together] : []),
    ],
    engineer: t.engineer(),
  };
}

/** What one group of panels comes to by itself. */
interface AloneLine {
  readonly panels: string;
  readonly says: string;
}

/** Everything that is told of a report. stanceName: a stance in words. */
export interface Answer {
  readonly parts: readonly Part[];
  /** What holds for all of it. */ readonly lines: readonly string[];
  readonly alone: readonly AloneLine[];
  readonly engineer: readonly string[];
}

export function answerOf(r: NeedReport, units: f.UnitChoice, stanceName: (name: string) => string = (n) => n): Answer {
  const many = r.stances.length > 1;
  const titled = (bolt: string, stance: string): string => (many ? words.inStance(bolt, stanceName(stance)) : bolt);
  const parts = r.stances.flatMap(({ stance, mid, low }): Part[] => {
    const typical = partOf(r, mid, titled(words.typical, stance), units, () => (r.softBolt && low === null ? [words.oneFigure] : []));
    if (low === null) return [typical];
    const soft = partOf(r, low, titled(words.softBolt, stance), units, () => {
      if (!low.least || low.least.met.factor <= 1) return [];
      // The same rigidity told of a typical bolt: what is asked for in a shop is that.
      return [words.chooseFor(new Teller(r, mid, units).at(low.least.met.factor))];
    });
    return [typical, soft];
  });
  const searches = r.stances.flatMap((s) => (s.low ? [s.mid, s.low] : [s.mid]));
  const surprising = searches.every((s) => new Teller(r, s, units).already) ? [words.surprising] : [];
  const asked = many ? r.stances.filter((s) => s.mid.least !== null) : [];
  const worst = asked.reduce<(typeof asked)[number] | null>((a, b) => (a === null || b.mid.least!.met.factor > a.mid.least!.met.factor ? b : a), null);
  return {
    parts,
    lines: [...surprising, ...(worst ? [words.worst(stanceName(worst.stance))] : [])],
    alone: r.alone.map(({ panels, stance, search }) => {
      const t = new Teller(r, search, units, panels);
      const says = search.least ? words.partNeeds(t.at(search.least.met.factor), t.has) : search.tries[0]!.side === 'meets' ? words.partIdle : words.partNever;
      return { panels: many ? words.inStance(listed(panels), stanceName(stance)) : listed(panels), says };
    }),
    engineer: [words.masses[r.mass], words.mesh(r.runs, span(r.edgeLength, units), r.vertices)],
  };
}
