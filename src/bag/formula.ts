/**
 * Formulas between dimensions: "W/2 - 12 3/8 in", "edge(front.left) + 2*R". Text to a syntax tree; evaluate.ts gives it a value.
 * Grammar: sum = product (+|- product)*; product = factor (*|/ factor)*; factor = -factor | number [unit] | name | name(...) | (sum).
 */
import { decimalComma, plainText, scaled, unitSize } from '../units/index.ts';
import { LIMITS } from './words.ts';

export type Formula =
  | { readonly kind: 'number'; readonly value: number }
  | { readonly kind: 'length'; readonly value: number }
  | { readonly kind: 'angle'; readonly value: number }
  | { readonly kind: 'name'; readonly name: string }
  | { readonly kind: 'edge'; readonly ref: string }
  | { readonly kind: 'negate'; readonly of: Formula }
  | { readonly kind: 'call'; readonly name: FunctionName; readonly args: readonly Formula[] }
  | { readonly kind: 'binary'; readonly op: '+' | '-' | '*' | '/'; readonly left: Formula; readonly right: Formula };

/** Functions and how many arguments they take (min and max take any number from 1). */
const FUNCTIONS = { sqrt: 1, abs: 1, sin: 1, cos: 1, tan: 1, atan: 1, hypot: 2, min: 0, max: 0 } as const;
export type FunctionName = keyof typeof FUNCTIONS;

/** Names a parameter may not take: units, functions, constants. */
export const RESERVED: ReadonlySet<string> = new Set([
  'pi',
  'edge',
  'length',
  'mm',
  'cm',
  'm',
  'um',
  'in',
  'inch',
  'inches',
  'ft',
  'yd',
  'oz',
  'deg',
  'rad',
  ...Object.keys(FUNCTIONS),
]);

/** Thrown inside this folder only; the message says what was expected. */
export class FormulaError extends Error {}

const NAME = /^[\p{L}_][\p{L}\p{N}_]*/u;
const UNIT = /^\s*(?:(mm|cm|um|inches|inch|in|ft|yd|m|deg|rad)(?![\p{L}\p{N}_])|("))/u;
// "12 3/8 in" and "12-3/8 in" are one length to a maker; without a unit behind it the hyphen stays a minus.
const FRACTION = /^(?:(\d+)(?:\s*-\s*|\s+))?(\d+)\s*\/\s*(\d+)(?=\s*(?:mm|cm|um|inches|inch|in|ft|yd|m|deg)(?![\p{L}\p{N}_])|\s*")/u;
const DECIMAL = /^(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?/;

class Parser {
  private at = 0;
  private depth = 0;
  constructor(private readonly text: string) {}

  whole(): Formula {
    const tree = this.sum();
    this.blank();
    const more = this.rest();
    if (more === '') return tree;
    this.noComma();
    const unit = NAME.test(more) ? 'a unit (mm, cm, m, in, ft, yd, deg), ' : '';
    throw new FormulaError(`${unit}one of + - * / or the end in place of ${JSON.stringify(more.slice(0, 12))}`);
  }

  /** Throws where the text stops at a comma between figures. */
  private noComma(): void {
    const spelled = this.text[this.at] === ',' ? decimalComma(this.text) : null;
    if (spelled !== null) throw new FormulaError(spelled);
  }

  private rest(): string {
    return this.text.slice(this.at);
  }

  private blank(): void {
    while (this.at < this.text.length && /\s/.test(this.text[this.at])) this.at++;
  }

  private take(sign: string): boolean {
    this.blank();
    if (this.text[this.at] !== sign) return false;
    this.at++;
    return true;
  }

  private sum(): Formula {
    let left = this.product();
    for (;;) {
      if (this.take('+')) left = { kind: 'binary', op: '+', left, right: this.product() };
      else if (this.take('-')) left = { kind: 'binary', op: '-', left, right: this.product() };
      else return left;
    }
  }

  private product(): Formula {
    let left = this.factor();
    for (;;) {
      if (this.take('*')) left = { kind: 'binary', op: '*', left, right: this.factor() };
      else if (this.take('/')) left = { kind: 'binary', op: '/', left, right: this.factor() };
      else return left;
    }
  }

  private factor(): Formula {
    if (++this.depth > LIMITS.depth) throw new FormulaError(`at most ${LIMITS.depth} nested parts`);
    const made = this.atom();
    this.depth--;
    return made;
  }

  private atom(): Formula {
    if (this.take('-')) return { kind: 'negate', of: this.factor() };
    if (this.take('+')) return this.factor();
    if (this.take('(')) {
      const inner = this.sum();
      if (!this.take(')')) {
        this.noComma();
        throw new FormulaError('a closing ")"');
      }
      return inner;
    }
    this.blank();
    const number = this.number();
    if (number) return number;
    const name = NAME.exec(this.rest());
    if (!name)
      throw new FormulaError(
        this.at >= this.text.length ? 'something after the last sign' : `a number, name or "(" at ${JSON.stringify(this.rest().slice(0, 12))}`,
      );
    this.at += name[0].length;
    if (!this.take('(')) return name[0] === 'pi' ? { kind: 'number', value: Math.PI } : { kind: 'name', name: name[0] };
    // "length" is what edge(...) was called once; ParseContext tells it.
    if (name[0] === 'edge' || name[0] === 'length') return this.edge();
    return this.call(name[0]);
  }

  private number(): Formula | null {
    const fraction = FRACTION.exec(this.rest());
    const decimal = fraction ? null : DECIMAL.exec(this.rest());
    const found = fraction ?? decimal;
    if (!found) return null;
    this.at += found[0].length;
    if (fraction && Number(fraction[3]) === 0) throw new FormulaError('a fraction whose lower part is not 0');
    const value = fraction ? Number(fraction[1] ?? 0) + Number(fraction[2]) / Number(fraction[3]) : Number(found[0]);
    if (!Number.isFinite(value)) throw new FormulaError('a number of ordinary size');
    const unit = UNIT.exec(this.rest());
    if (!unit) return { kind: 'number', value };
    this.at += unit[0].length;
    const word = unit[1] ?? unit[2];
    const length = unitSize('length', word);
    if (length !== null) return { kind: 'length', value: scaled(value, length) };
    return { kind: 'angle', value: value * (unitSize('angle', word) ?? 1) };
  }

  /** The reference inside edge(...): raw text up to the bracket, quotes allowed, so that edge names may hold spaces and hyphens. */
  private edge(): Formula {
    const end = this.text.indexOf(')', this.at);
    if (end < 0) throw new FormulaError('a closing ")" after edge(');
    const ref = this.text
      .slice(this.at, end)
      .trim()
      .replace(/^(["'])(.*)\1$/, '$2');
    this.at = end + 1;
    return { kind: 'edge', ref };
  }

  private call(name: string): Formula {
    if (!Object.hasOwn(FUNCTIONS, name)) throw new FormulaError(`one of the functions edge, ${Object.keys(FUNCTIONS).join(', ')} instead of "${name}"`);
    const args = [this.sum()];
    while (this.take(',')) args.push(this.sum());
    if (!this.take(')')) throw new FormulaError('a closing ")"');
    const want = FUNCTIONS[name as FunctionName];
    if (want > 0 && args.length !== want) throw new FormulaError(`${want} value${want > 1 ? 's' : ''} in ${name}(...)`);
    return { kind: 'call', name: name as FunctionName, args };
  }
}

/** "2.5 %" as a formula has it; anything else as it stands. */
export const ofHundred = (written: string): string => written.replace(/^\s*([\d.]+)\s*%\s*$/, '($1)/100');

/**
 * Syntax tree of a formula. Parameter: text of at most LIMITS.formula characters; typographic signs (½, −, ×, ″) are understood.
 * Errors: FormulaError saying what was expected. No part of the text is ever run as code.
 */
export function parseFormula(text: string): Formula {
  if (text.length > LIMITS.formula) throw new FormulaError(`a formula of at most ${LIMITS.formula} characters`);
  if (text.trim() === '') throw new FormulaError('a formula or a figure with its unit');
  return new Parser(plainText(text)).whole();
}
