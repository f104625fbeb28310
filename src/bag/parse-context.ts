/**
 * What one file is resolved against: parameters and panel outlines, each worked out when first asked for, so that formulas may
 * point forward and every formula that leads back to itself is found. One context serves one parse and is thrown away.
 */
import { type QuantityKind, quantityExample, readQuantity } from '../units/index.ts';
import { edgeLength } from './curve.ts';
import { type EdgeRef, readEdgeRef, runsOf } from './edge-ref.ts';
import { dimensionName, evaluate, type Measure, metres, type Names } from './evaluate.ts';
import { at, FaultList, oneOf, shown } from './faults.ts';
import { FormulaError, ofHundred, parseFormula } from './formula.ts';
import type { Renamed } from './renamed.ts';
import type { SizeForm } from './schema-base.ts';
import type { EdgeRun, OutlineEdge } from './types.ts';
import { LIMITS } from './words.ts';

/** A fault that is already on the list: whatever depends on it stays silent. */
export class Reported extends Error {}

/** Edges of one panel by name, with its chains. */
export interface Drawn {
  readonly outline: readonly OutlineEdge[];
  readonly holes: readonly (readonly OutlineEdge[])[];
  readonly edges: ReadonlyMap<string, OutlineEdge>;
  readonly chains: ReadonlyMap<string, readonly string[]>;
}

type Slot<T> = { state: 'waiting' } | { state: 'open' } | { state: 'failed' } | { state: 'done'; value: T };

/** Allowed range of a resolved size, SI. */
export interface Range {
  readonly min?: number;
  readonly max?: number;
  /** `min` itself is not allowed. */ readonly above?: boolean;
}

type SizeKind = 'length' | 'angle' | 'number';

export class ParseContext implements Names {
  /** Old names in the file; grows as formulas are read. */ readonly renamed: Renamed[];
  private readonly values = new Map<string, { readonly written: SizeForm; slot: Slot<Measure> }>();
  private readonly drawings = new Map<string, { slot: Slot<Drawn> }>();
  private draw: ((name: string) => Drawn) | null = null;
  private readonly trail: string[] = [];

  constructor(
    renamed: readonly Renamed[] = [],
    readonly faults = new FaultList(),
  ) {
    this.renamed = [...renamed];
  }

  /** The key at the top of the file as its writer has it. */
  writtenAs(key: string): string {
    return this.renamed.find((r) => r.now === key)?.old ?? key;
  }

  private noteOldNames(path: string, written: unknown): void {
    if (typeof written === 'string' && /\blength\s*\(/.test(written)) this.renamed.push({ path, old: 'length(...)', now: 'edge(...)' });
  }

  declareParameter(name: string, written: SizeForm): void {
    this.values.set(name, { written, slot: { state: 'waiting' } });
  }

  /** A parameter whose fault is on the list already: formulas that use it stay silent. */
  declareBroken(name: string): void {
    this.values.set(name, { written: 0, slot: { state: 'failed' } });
  }

  /** Names every panel of the file (broken ones too, so that they are not called unknown) and how an outline is drawn. */
  declarePanels(names: Iterable<string>, draw: (name: string) => Drawn): void {
    for (const name of names) this.drawings.set(name, { slot: { state: 'waiting' } });
    this.draw = draw;
  }

  get panelNames(): Iterable<string> {
    return this.drawings.keys();
  }

  hasPanel(name: string): boolean {
    return this.drawings.has(name);
  }

  /** Works one slot out once; a slot that is asked for while open depends on itself. */
  private once<T>(holder: { slot: Slot<T> }, title: string, make: () => T): T {
    const { slot } = holder;
    if (slot.state === 'done') return slot.value;
    if (slot.state === 'failed') throw new Reported();
    if (slot.state === 'open') {
      const cycle = [...this.trail.slice(this.trail.indexOf(title)), title];
      throw new FormulaError(`a formula that does not depend on itself (${cycle.slice(-8).join(' -> ')})`);
    }
    if (this.trail.length > 200) throw new FormulaError('a chain of at most 200 formulas');
    holder.slot = { state: 'open' };
    this.trail.push(title);
    try {
      const value = make();
      holder.slot = { state: 'done', value };
      return value;
    } catch (error) {
      holder.slot = { state: 'failed' };
      throw error;
    } finally {
      this.trail.pop();
    }
  }

  parameter(name: string): Measure {
    const holder = this.values.get(name);
    if (!holder) throw new FormulaError(oneOf(`a parameter of this bag instead of "${name}"`, name, this.values.keys()));
    return this.once(holder, name, () => {
      const path = at('parameters', name);
      const { written } = holder;
      if (typeof written === 'number') return { value: written, length: 0, angle: 0 };
      this.noteOldNames(path, written);
      try {
        const m = this.valueOf(written, 'length', name);
        // Broken from here on: what is written with it would only repeat the fault.
        if (m.length === 1 && Math.abs(m.value) > LIMITS.length)
          throw new FormulaError(`a length of at most ${LIMITS.length} m, not ${Number(m.value.toPrecision(4))} m`);
        return m;
      } catch (error) {
        throw this.report(path, written, error);
      }
    });
  }

  edge(ref: string): Measure {
    const made = this.reference(ref, 'edge(...)');
    return metres(this.runLength(made));
  }

  /** Total length of a chain of stretches, m. */
  runLength(runs: readonly EdgeRun[]): number {
    let sum = 0;
    for (const run of runs) sum += (run.to - run.from) * edgeLength(this.drawn(run.panel).edges.get(run.edge) as OutlineEdge);
    return sum;
  }

  /** The outline of a panel. Throws Reported when it is broken, FormulaError when it depends on itself. */
  drawn(name: string): Drawn {
    const holder = this.drawings.get(name);
    if (!holder || !this.draw) throw new FormulaError(oneOf(`a panel of this bag instead of "${name}"`, name, this.drawings.keys()));
    const { draw } = this;
    return this.once(holder, `panel ${name}`, () => draw(name));
  }

  /** Stretches named by "panel.edge", "panel.chain" or either with [from..to]. `home`: panel meant when none is named. Throws FormulaError. */
  reference(text: string, what: string, home?: string): EdgeRun[] {
    const ref: EdgeRef = readEdgeRef(text, what, home);
    if (!this.drawings.has(ref.panel)) throw new FormulaError(oneOf(`a panel of this bag instead of "${ref.panel}"`, ref.panel, this.drawings.keys()));
    const drawn = this.drawn(ref.panel);
    const names = drawn.chains.get(ref.edge) ?? (drawn.edges.has(ref.edge) ? [ref.edge] : null);
    if (!names)
      throw new FormulaError(oneOf(`an edge of panel ${ref.panel} instead of "${ref.edge}"`, ref.edge, [...drawn.edges.keys(), ...drawn.chains.keys()]));
    const lengths = names.map((n) => edgeLength(drawn.edges.get(n) as OutlineEdge));
    const total = lengths.reduce((a, b) => a + b, 0);
    const end = (written: string | null, fallback: number): number => {
      if (written === null) return fallback;
      const m = evaluate(parseFormula(ofHundred(written)), this);
      if (m.length !== 0 && m.length !== 1) throw new FormulaError('a length, a fraction or a percentage in [from..to]');
      return m.length === 1 ? m.value / total : m.value;
    };
    return runsOf(ref.panel, names, lengths, end(ref.from, 0), end(ref.to, 1));
  }

  /** Puts an error on the list and returns what to throw on. Anything but our own two kinds is a bug and passes through. */
  report(path: string, written: unknown, error: unknown): unknown {
    if (error instanceof Reported) return error;
    if (!(error instanceof FormulaError)) return error;
    this.faults.add(path, written, error.message);
    return new Reported();
  }

  /** Runs `make`; a fault goes on the list under `path` and gives null. */
  attempt<T>(path: string, written: unknown, make: () => T): T | null {
    try {
      return make();
    } catch (error) {
      const reported = this.report(path, written, error);
      if (reported instanceof Reported) return null;
      throw reported;
    }
  }

  /** SI value of a written length, angle or number; null after putting the fault on the list. */
  size(path: string, written: SizeForm, kind: SizeKind, range: Range = {}): number | null {
    this.noteOldNames(path, written);
    return this.attempt(path, written, () => {
      const value = this.dimensioned(written, kind);
      inRange(value, written, kind, range);
      return value;
    });
  }

  /** Does the formula come to a length? false as well where it comes to nothing: whoever reads it next puts the fault on the list. */
  isLength(written: string): boolean {
    try {
      const m = evaluate(parseFormula(written), this);
      return m.length === 1 && m.angle === 0;
    } catch (error) {
      if (error instanceof FormulaError || error instanceof Reported) return false;
      throw error;
    }
  }

  /** Value of a formula; a word alone that is no parameter's name is told what a figure looks like first. `own`: the parameter being written. */
  private valueOf(written: string, kind: SizeKind, own?: string): Measure {
    const tree = parseFormula(written);
    if (tree.kind !== 'name' || this.values.has(tree.name)) return evaluate(tree, this);
    const others = [...this.values.keys()].filter((name) => name !== own);
    throw new FormulaError(`${quantityExample(kind)}${others.length > 0 ? `, or ${oneOf('a parameter of this bag', tree.name, others)}` : ''}`);
  }

  private dimensioned(written: SizeForm, kind: SizeKind): number {
    if (typeof written === 'number') {
      if (kind === 'number' || written === 0) return written;
      throw new FormulaError(`${quantityExample(kind)}; the unit is missing`);
    }
    const m = this.valueOf(written, kind);
    if (kind === 'number') {
      if (m.length === 0 && m.angle === 0) return m.value;
    } else if (m.length === 0 && m.angle === 0) {
      if (m.value === 0) return 0;
      throw new FormulaError(`${quantityExample(kind)}; the unit is missing`);
    } else if (kind === 'length' ? m.length === 1 : m.length === 0 && m.angle === 1) return m.value;
    throw new FormulaError(`${quantityExample(kind)}, not ${dimensionName(m)}`);
  }

  /** SI value of a written figure with a unit that takes no formula (masses, rigidities); null after putting the fault on the list. */
  quantity(path: string, written: SizeForm, kind: QuantityKind, range: Range = {}): number | null {
    return this.attempt(path, written, () => {
      if (typeof written === 'number') {
        if (written === 0 && (range.min ?? 0) <= 0 && !range.above) return 0;
        throw new FormulaError(`${quantityExample(kind)}; the unit is missing`);
      }
      const reading = readQuantity(written, kind);
      if (!reading.ok) throw new FormulaError(reading.expected);
      inRange(reading.value, written, kind, range);
      return reading.value;
    });
  }
}

const PRINTED: Readonly<Partial<Record<QuantityKind, readonly [number, string]>>> = {
  length: [1000, 'mm'],
  thickness: [1000, 'mm'],
  angle: [180 / Math.PI, 'deg'],
  arealMass: [1000, 'g/m2'],
  bending: [1, 'N.m'],
  inPlane: [1, 'N/m'],
  hinge: [1, 'N'],
  mass: [1, 'kg'],
  force: [1, 'N'],
};

function inRange(value: number, written: unknown, kind: QuantityKind, range: Range): void {
  const [scale, unit] = PRINTED[kind] ?? [1, ''];
  const say = (v: number) => `${Number((v * scale).toPrecision(6))} ${unit}`.trim();
  const low = range.min !== undefined && (range.above ? value <= range.min : value < range.min);
  const high = range.max !== undefined && value > range.max;
  if (!low && !high) return;
  const got = typeof written === 'string' && shown(written).includes(say(value)) ? '' : `, not ${say(value)}`;
  const bounds = [
    range.min === undefined ? '' : `${range.above ? 'more than' : 'at least'} ${say(range.min)}`,
    range.max === undefined ? '' : `at most ${say(range.max)}`,
  ];
  throw new FormulaError(`${bounds.filter((b) => b !== '').join(' and ')}${got}`);
}
