import { type BagDocument, lengthIn, type Path, type Unit, withValue, writtenLength } from '../bag/index.ts';
import type { Bag, Point2 } from '../bag/types.ts';

/** A piece of the written file. */
export type Form = Readonly<Record<string, unknown>>;

export const record = (v: unknown): Form | null => (v !== null && typeof v === 'object' && !Array.isArray(v) ? (v as Form) : null);
export const listOf = (v: unknown): readonly unknown[] => (Array.isArray(v) ? v : []);
const textsOf = (v: unknown): readonly string[] => (typeof v === 'string' ? [v] : listOf(v).filter((s) => typeof s === 'string'));

/** What stands at a place of the file. */
export const readAt = (document: BagDocument, path: Path): unknown =>
  path.reduce<unknown>((v, k) => (v as Record<string, unknown> | undefined)?.[k], document.value);

export const panelsOf = (document: BagDocument): Form => record(document.value.panels) ?? {};
export const panelForm = (document: BagDocument, panel: string): Form => record(panelsOf(document)[panel]) ?? {};

/** The panel that a copy or a mirror image takes its outline from, through any number of copies; itself where it has one of its own. */
export function ownerOf(document: BagDocument, panel: string): { readonly owner: string; readonly mirrored: boolean } {
  let owner = panel;
  let mirrored = false;
  for (let depth = 0; depth < 50; depth++) {
    const { copy, mirror } = panelForm(document, owner);
    if (typeof mirror === 'string') mirrored = !mirrored;
    const next = typeof copy === 'string' ? copy : typeof mirror === 'string' ? mirror : null;
    if (next === null) break;
    owner = next;
  }
  return { owner, mirrored };
}

/** The panels whose outline is that of `owner`, itself first. */
export const followersOf = (document: BagDocument, owner: string): string[] => [
  owner,
  ...Object.keys(panelsOf(document)).filter((p) => p !== owner && ownerOf(document, p).owner === owner),
];

/** The panel whose same edges lie opposite: another that follows the same outline; null where there is none. */
export function opposite(document: BagDocument, panel: string): string | null {
  const { owner } = ownerOf(document, panel);
  return followersOf(document, owner).find((p) => p !== panel) ?? null;
}

const FIGURE = /^-?[\d\s./-]+(mm|cm|m|in|inch|inches|ft|["″”])?\s*$/;
/** A figure with its unit and nothing else: nothing is lost when it is written anew. */
export const isFigure = (written: unknown): boolean => typeof written === 'number' || (typeof written === 'string' && FIGURE.test(written.trim()));

const isNought = (written: unknown): boolean => written === undefined || written === 0 || written === '0';
const inBrackets = (written: unknown): string => (typeof written === 'string' && /[-+]/.test(written.trim().slice(1)) ? `(${written})` : String(written));

/** Writes lengths as a maker would: figures as one figure, formulas as a formula of both. */
export class Writer {
  constructor(
    readonly bag: Bag,
    readonly unit: Unit,
  ) {}

  /** m as text. */
  figure(metres: number, before: unknown = undefined): string | number {
    return Math.abs(metres) < 5e-8 ? 0 : writtenLength(metres, before, this.unit);
  }

  point(p: Point2): (string | number)[] {
    return [this.figure(p[0]), this.figure(p[1])];
  }

  /** m; 0 where it is no length. */
  value(written: unknown): number {
    return lengthIn(this.bag, written) ?? 0;
  }

  /** a + factor b. */
  sum(a: unknown, b: unknown, factor = 1): string | number {
    if (isNought(b)) return isNought(a) ? 0 : (a as string | number);
    if (isFigure(b) && (isFigure(a) || isNought(a))) return this.figure(this.value(a) + factor * this.value(b), b);
    const scaled = Math.abs(factor) === 1 ? inBrackets(b) : `${Math.abs(factor)}*${inBrackets(b)}`;
    if (isNought(a)) return factor < 0 ? `-${scaled}` : Math.abs(factor) === 1 ? String(b) : scaled;
    return `${a} ${factor < 0 ? '-' : '+'} ${scaled}`;
  }

  /** A formula and a figure of its own beside it, so that what is written so can be moved without changing what the formula names. */
  loose(written: string | number): string | number {
    return isFigure(written) ? written : `${written} + 0 ${this.unit}`;
  }

  /** a + share (b - a). */
  between(a: unknown, b: unknown, share: number): string | number {
    if (a === b) return a as string | number;
    const [x, y] = [this.value(a), this.value(b)];
    if (isFigure(a) && isFigure(b)) return this.figure(x + share * (y - x), isNought(a) ? b : a);
    const rounded = Number(share.toFixed(4));
    if (isNought(a)) return rounded === 0.5 ? `${inBrackets(b)}/2` : `${rounded}*${inBrackets(b)}`;
    if (isNought(b)) return `${Number((1 - rounded).toFixed(4))}*${inBrackets(a)}`;
    return rounded === 0.5 ? `(${a} + ${inBrackets(b)})/2` : `${inBrackets(a)} + ${rounded}*(${b} - ${inBrackets(a)})`;
  }
}

/** A name that is not taken: "pocket", then "pocket 2". */
export function freeName(wanted: string, taken: Iterable<string>): string {
  const names = new Set(taken);
  if (!names.has(wanted)) return wanted;
  const stem = wanted.replace(/ \d+$/, '');
  for (let i = 2; ; i++) if (!names.has(`${stem} ${i}`)) return `${stem} ${i}`;
}

/** Letters of seams: A to Z, then A2 and so on. */
export function freeLetter(taken: Iterable<string>): string {
  const names = new Set(taken);
  const letters = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'];
  for (let round = 1; ; round++) {
    const found = letters.map((l) => (round === 1 ? l : `${l}${round}`)).find((l) => !names.has(l));
    if (found) return found;
  }
}

/** The written sides of a seam, each as its list of stretches. */
export const sidesOf = (seam: unknown): string[][] => listOf(Array.isArray(seam) ? seam : record(seam)?.join).map((side) => [...textsOf(side)]);

/** A seam with other sides, in the form it was written in. */
export function withSides(seam: unknown, sides: readonly (readonly string[])[]): unknown {
  const join = sides.map((side) => (side.length === 1 ? side[0] : [...side]));
  const keys = record(seam);
  return keys ? { ...keys, join } : join;
}

/** Panel and edge of a written stretch: "front.top[10%..90%]". */
export function partsOf(ref: string): { readonly panel: string; readonly edge: string; readonly rest: string } {
  const open = ref.indexOf('[');
  const names = open < 0 ? ref : ref.slice(0, open);
  const dot = names.indexOf('.');
  return { panel: names.slice(0, dot).trim(), edge: names.slice(dot + 1).trim(), rest: open < 0 ? '' : ref.slice(open) };
}

/** Every text of a piece of the file run through `change`, keys among them: a finish's stretch is one. */
export function mapTexts(value: unknown, change: (text: string) => string): unknown {
  if (typeof value === 'string') return change(value);
  if (Array.isArray(value)) return value.map((v) => mapTexts(v, change));
  const keys = record(value);
  return keys ? Object.fromEntries(Object.entries(keys).map(([k, v]) => [change(k), mapTexts(v, change)])) : value;
}

const literally = (word: string): string => word.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

/** Lengths of edges that formulas ask for, `edge(front.top)`: those that `which` names are written as the figure they have now. */
export function withoutEdgeFormulas(document: BagDocument, writer: Writer, panel: string, edge: string | null): BagDocument {
  const asked = new RegExp(`edge\\s*\\(\\s*${literally(panel)}\\s*\\.\\s*${edge === null ? '[^)]*' : `${literally(edge)}\\s*(\\[[^)]*)?`}\\)`, 'g');
  const value = mapTexts(document.value, (text) =>
    text.includes('edge') ? text.replace(asked, (found) => String(writer.figure(writer.value(found)) || '0 mm')) : text,
  );
  return { value: value as BagDocument['value'] };
}

/** The value at a path made anew by a function of what stands there. */
export const changed = (document: BagDocument, path: Path, change: (before: unknown) => unknown): BagDocument =>
  withValue(document, path, change(readAt(document, path)));
