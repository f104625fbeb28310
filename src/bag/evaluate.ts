/** Values with dimensions: a length is never added to a number, and a formula that must be a length cannot turn out an area. */
import { libm } from '../numerics/index.ts';
import { type Formula, FormulaError, type FunctionName } from './formula.ts';

/** A value in SI: m^length rad^angle. */
export interface Measure {
  readonly value: number;
  readonly length: number;
  readonly angle: number;
}

/** What names and edges stand for. Both throw FormulaError when unknown; both may recurse and detect cycles. */
export interface Names {
  readonly parameter: (name: string) => Measure;
  readonly edge: (ref: string) => Measure;
}

export const pure = (value: number): Measure => ({ value, length: 0, angle: 0 });
export const metres = (value: number): Measure => ({ value, length: 1, angle: 0 });
const radians = (value: number): Measure => ({ value, length: 0, angle: 1 });

/** "a length", "an area", ... for messages. */
export function dimensionName(m: Measure): string {
  if (m.length === 0) return m.angle === 0 ? 'a bare number' : 'an angle';
  if (m.length === 1) return 'a length';
  if (m.length === 2) return 'an area';
  return `a length to the power ${m.length}`;
}

// Radians are lengths over lengths, so radius times angle is a length; the angle power only matters where no length is in play.
const same = (a: Measure, b: Measure): boolean => a.length === b.length && (a.length !== 0 || a.angle === b.angle);

/** Nought needs no unit: it is a length or an angle where one is meant. */
const nought = (m: Measure): boolean => m.value === 0 && m.length === 0 && m.angle === 0;

function together(args: readonly Measure[], what: string): Measure {
  const kind = args.find((a) => !nought(a)) ?? args[0];
  for (const a of args)
    if (!same(a, kind) && !nought(a)) throw new FormulaError(`values of one kind in ${what}, not ${dimensionName(kind)} and ${dimensionName(a)}`);
  return kind;
}

function call(name: FunctionName, args: readonly Measure[]): Measure {
  const [a] = args;
  switch (name) {
    case 'min':
      return { ...together(args, name), value: Math.min(...args.map((x) => x.value)) };
    case 'max':
      return { ...together(args, name), value: Math.max(...args.map((x) => x.value)) };
    case 'hypot':
      return { ...together(args, name), value: libm.norm(args.map((x) => x.value)) };
    case 'abs':
      return { ...a, value: Math.abs(a.value) };
    case 'sqrt':
      if (a.value < 0) throw new FormulaError(`a value of at least 0 in sqrt(...), not ${a.value}`);
      return { value: Math.sqrt(a.value), length: a.length / 2, angle: a.angle / 2 };
    case 'atan':
      if (a.length !== 0) throw new FormulaError(`a ratio in atan(...), not ${dimensionName(a)}`);
      return radians(libm.atan(a.value));
    default: {
      // A bare number here is nearly always degrees that lost their unit.
      if (a.length !== 0 || a.angle !== 1) throw new FormulaError(`an angle such as "30 deg" in ${name}(...), not ${dimensionName(a)}`);
      return pure(name === 'sin' ? libm.sin(a.value) : name === 'cos' ? libm.cos(a.value) : libm.tan(a.value));
    }
  }
}

/**
 * Value of a formula in SI with its dimension. Parameters: the tree; what names and edges stand for.
 * Errors: FormulaError for mixed dimensions, division by 0, overflow, unknown names and whatever `names` throws.
 */
export function evaluate(tree: Formula, names: Names): Measure {
  const made = step(tree, names);
  if (!Number.isFinite(made.value)) throw new FormulaError('a finite value');
  return made;
}

function step(tree: Formula, names: Names): Measure {
  switch (tree.kind) {
    case 'number':
      return pure(tree.value);
    case 'length':
      return metres(tree.value);
    case 'angle':
      return radians(tree.value);
    case 'name':
      return names.parameter(tree.name);
    case 'edge':
      return names.edge(tree.ref);
    case 'negate': {
      const a = step(tree.of, names);
      return { ...a, value: -a.value };
    }
    case 'call':
      return call(
        tree.name,
        tree.args.map((a) => step(a, names)),
      );
    case 'binary': {
      const a = step(tree.left, names);
      const b = step(tree.right, names);
      if (tree.op === '*') return { value: a.value * b.value, length: a.length + b.length, angle: a.angle + b.angle };
      if (tree.op === '/') {
        if (b.value === 0) throw new FormulaError('a divisor other than 0');
        return { value: a.value / b.value, length: a.length - b.length, angle: a.angle - b.angle };
      }
      if (!same(a, b) && !nought(a) && !nought(b))
        throw new FormulaError(`two values of one kind around "${tree.op}", not ${dimensionName(a)} and ${dimensionName(b)}`);
      return { ...(nought(a) ? b : a), value: tree.op === '+' ? a.value + b.value : a.value - b.value };
    }
  }
}
