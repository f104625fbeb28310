/** Edits that keep links: where a size is written as a parameter or a multiple of one, the parameter changes; otherwise the figure itself. */
import { formatInches, trimmed } from '../units/index.ts';
import { edgeLength } from './curve.ts';
import { readEdgeRef } from './edge-ref.ts';
import { evaluate, type Measure, metres, type Names } from './evaluate.ts';
import { type Formula, FormulaError, ofHundred, parseFormula } from './formula.ts';
import type { BagDocument } from './parse.ts';
import { withValue } from './print.ts';
import type { Bag } from './types.ts';

export type Path = readonly (string | number)[];
export type Unit = 'mm' | 'in';

/** What one edit did to the file. */
export interface SizeChange {
  /** Parameter whose figure changed, or null when the figure at the place itself did. */ readonly parameter: string | null;
  readonly before: string;
  readonly after: string;
  /** The formula that the figure replaced (a link that is gone), or null. */ readonly replaced: string | null;
}

const PURE: Names = {
  parameter: () => {
    throw new FormulaError('a constant');
  },
  edge: () => {
    throw new FormulaError('a constant');
  },
};

const constant = (tree: Formula): number | null => {
  try {
    const m = evaluate(tree, PURE);
    return m.length === 0 && m.angle === 0 ? m.value : null;
  } catch {
    return null;
  }
};

/** The one parameter of which a formula is a constant multiple, with that factor ("W/2" -> W, 0.5; "pi*d" -> d, 3.14); null for anything else. */
export function multipleOf(written: unknown): { readonly name: string; readonly factor: number } | null {
  if (typeof written !== 'string') return null;
  try {
    return walk(parseFormula(written));
  } catch {
    return null;
  }
}

function walk(tree: Formula): { name: string; factor: number } | null {
  if (tree.kind === 'name') return { name: tree.name, factor: 1 };
  if (tree.kind === 'negate') {
    const inner = walk(tree.of);
    return inner && { ...inner, factor: -inner.factor };
  }
  if (tree.kind !== 'binary' || (tree.op !== '*' && tree.op !== '/')) return null;
  const left = walk(tree.left);
  const right = constant(tree.right);
  if (left && right) return { ...left, factor: tree.op === '*' ? left.factor * right : left.factor / right };
  if (tree.op === '/') return null;
  const other = walk(tree.right);
  const k = constant(tree.left);
  return other && k ? { ...other, factor: other.factor * k } : null;
}

/** true for a figure with its unit and nothing else, so that no link is lost when it is written anew. */
function plain(written: unknown): boolean {
  if (typeof written !== 'string') return true;
  try {
    const tree = parseFormula(written);
    return tree.kind === 'length' || tree.kind === 'number' || (tree.kind === 'negate' && (tree.of.kind === 'length' || tree.of.kind === 'number'));
  } catch {
    return false;
  }
}

/** SI value of a length as written in a parsed bag, or null when it is no length. */
export function lengthIn(bag: Bag, written: unknown): number | null {
  if (typeof written === 'number') return written === 0 ? 0 : null;
  if (typeof written !== 'string') return null;
  const names: Names = {
    parameter: (name): Measure => {
      const p = bag.parameters.find((q) => q.name === name);
      if (!p || p.kind === 'other') throw new FormulaError('a parameter');
      return { value: p.value, length: p.kind === 'length' ? 1 : 0, angle: p.kind === 'angle' ? 1 : 0 };
    },
    edge: (ref) => {
      const { panel, edge, from, to } = readEdgeRef(ref, 'edge(...)');
      const found = bag.panels.find((p) => p.name === panel);
      const edges = found ? [...found.outline, ...found.holes.flat()].filter((e) => (found.chains[edge] ?? [edge]).includes(e.name)) : [];
      if (edges.length === 0) throw new FormulaError('an edge');
      const whole = edges.reduce((sum, e) => sum + edgeLength(e), 0);
      const end = (text: string | null, otherwise: number): number => {
        const m = text === null ? null : evaluate(parseFormula(ofHundred(text)), names);
        return m === null ? otherwise : m.length === 1 ? m.value : m.value * whole;
      };
      return metres(end(to, whole) - end(from, 0));
    },
  };
  try {
    const m = evaluate(parseFormula(written), names);
    return m.length === 1 || m.value === 0 ? m.value : null;
  } catch {
    return null;
  }
}

/** A length as a maker writes it: in the unit that stood there, else in `unit`. Inch fractions to 1/64 where they are exact. */
export function writtenLength(value: number, before: unknown, unit: Unit): string {
  const word = typeof before === 'string' && plain(before) ? /(mm|cm|in|inch|inches|["″”])\s*$/.exec(before)?.[1] : undefined;
  if (word === 'cm') return `${trimmed(value * 100, 3)} cm`;
  if (word === 'mm' || (word === undefined && unit === 'mm')) return `${trimmed(value * 1000, 2)} mm`;
  const exact = Math.abs((value / 0.0254) * 64 - Math.round((value / 0.0254) * 64)) < 1e-4;
  return exact ? formatInches(value, 64) : `${trimmed(value / 0.0254, 4)} in`;
}

const read = (document: BagDocument, path: Path): unknown => path.reduce<unknown>((v, k) => (v as Record<string, unknown> | undefined)?.[k], document.value);

/**
 * The document with the size at `path` made `value` (m), and what that did. A parameter, or a multiple of one, passes the change on, and so
 * on down; anything else is replaced by the figure. Nothing is judged: parse the result.
 */
export function withSize(document: BagDocument, path: Path, value: number, unit: Unit): { readonly document: BagDocument; readonly change: SizeChange } {
  let at = path;
  let target = value;
  let parameter: string | null = null;
  for (let depth = 0; depth < 20; depth++) {
    const link = multipleOf(read(document, at));
    if (!link || link.factor === 0 || read(document, ['parameters', link.name]) === undefined) break;
    parameter = link.name;
    target /= link.factor;
    at = ['parameters', link.name];
  }
  const before = read(document, at);
  const after = writtenLength(target, before, unit);
  const change: SizeChange = { parameter, before: before === undefined ? '' : String(before), after, replaced: plain(before) ? null : String(before) };
  return { document: withValue(document, at, after), change };
}
