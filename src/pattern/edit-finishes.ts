import { type BagDocument, withValue } from '../bag/index.ts';
import type { Bag, FinishKind } from '../bag/types.ts';
import { opposite, panelForm, partsOf, record } from './edit-document.ts';
import type { Drawn } from './edit-outline.ts';
import { openEdge } from './edit-panels.ts';

/** How an open edge is to be finished. */
export interface FinishChoice {
  /** null: nothing is stated of it any more. */ readonly finish: FinishKind | null;
  /** Finished width as written, "30 mm"; not read of a raw edge. */ readonly width?: string;
  /** Stack of a facing or a binding; null or left out: the panel's own shell. */ readonly stack?: string | null;
  /** The same edge of the panel opposite too. */ readonly both?: boolean;
}

/** Stretches of an edge that no seam takes up, as shares of its length, in order. */
export function freeStretches(bag: Bag, panel: string, edge: string): readonly (readonly [number, number])[] {
  const sewn = bag.seams
    .flatMap((s) => s.sides.flat())
    .filter((run) => run.panel === panel && run.edge === edge)
    .map((run) => [run.from, run.to] as const)
    .sort((a, b) => a[0] - b[0]);
  const free: [number, number][] = [];
  let from = 0;
  for (const [a, b] of sewn) {
    if (a > from + NONE) free.push([from, a]);
    from = Math.max(from, b);
  }
  if (from < 1 - NONE) free.push([from, 1]);
  return free;
}

/** A share of an edge that is nothing: between two seams that meet. */
const NONE = 1e-6;

const percent = (share: number): string => `${Number((100 * share).toFixed(4))}%`;

/** The panel that a finish is put on as well: one of the same outline, else the back of a front, the other of two sides; null: there is none. */
export function partnerOf(document: BagDocument, bag: Bag, panel: string): string | null {
  const own = bag.panels.find((p) => p.name === panel);
  const facing = { front: 'back', back: 'front', side: 'side' }[String(own?.role)];
  const others = bag.panels.filter((p) => p.name !== panel && p.role === facing);
  return opposite(document, panel) ?? (others.length === 1 ? others[0].name : null);
}

/** What an edge's finish is written under: the edge itself, or each stretch that is not sewn. */
const finishKeys = (bag: Bag, panel: string, edge: string): string[] => {
  const free = freeStretches(bag, panel, edge);
  const whole = free.length === 0 || (free.length === 1 && free[0][0] === 0 && free[0][1] === 1);
  return whole ? [edge] : free.map(([a, b]) => `${edge}[${percent(a)}..${percent(b)}]`);
};

/**
 * An open edge hemmed, faced, bound or left raw, in place of what was written of it. An edge of which a seam takes a stretch is finished on the rest; a finish
 * over several edges goes on over the others. An edge that no seam takes up is listed as open from then on. null: there is no such edge.
 */
export function finishEdge(document: BagDocument, bag: Bag, panel: string, edge: string, choice: FinishChoice): Drawn {
  if (!bag.panels.some((p) => p.name === panel && p.outline.some((e) => e.name === edge))) return null;
  const partner = choice.both ? partnerOf(document, bag, panel) : null;
  const other = bag.panels.some((p) => p.name === partner && p.outline.some((e) => e.name === edge)) ? partner : null;
  const out = finishOne(document, bag, panel, edge, choice);
  if (other === null) return { document: out, notes: [] };
  if (freeStretches(bag, other, edge).length === 0) return { document: out, notes: [`${other}.${edge} is sewn: it has no finish.`] };
  return { document: finishOne(out, bag, other, edge, choice), notes: [`${other}.${edge} as well.`] };
}

function finishOne(document: BagDocument, bag: Bag, panel: string, edge: string, choice: FinishChoice): BagDocument {
  const drawn = bag.panels.find((p) => p.name === panel);
  let leather: unknown;
  const entries = Object.entries(record(panelForm(document, panel).finishes) ?? {}).flatMap(([key, form]): [string, unknown][] => {
    const named = partsOf(`.${key}`).edge;
    const members = drawn?.chains[named] ?? [named];
    if (!members.includes(edge)) return [[key, form]];
    leather ??= record(form)?.['in leather'];
    return members.filter((m) => m !== edge).map((m) => [m, form]);
  });
  if (choice.finish !== null) {
    const covers = choice.finish === 'faced' || choice.finish === 'bound';
    const form = {
      finish: choice.finish,
      ...(choice.finish === 'raw' ? {} : { width: choice.width ?? '' }),
      ...(covers && choice.stack ? { stack: choice.stack } : {}),
      // What is stated for leather is another finish, and stays.
      ...(leather === undefined ? {} : { 'in leather': leather }),
    };
    entries.push(...finishKeys(bag, panel, edge).map((key): [string, unknown] => [key, form]));
  }
  const out = withValue(document, ['panels', panel, 'finishes'], entries.length > 0 ? Object.fromEntries(entries) : undefined);
  const unsewn = freeStretches(bag, panel, edge).length === 1 && finishKeys(bag, panel, edge)[0] === edge;
  return unsewn && choice.finish !== null && !drawn?.openings.includes(edge) ? openEdge(out, bag, panel, edge, true) : out;
}
