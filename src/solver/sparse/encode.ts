import { type Code, get, unsigned } from './encode-integers.ts';

// Blocks, loops and modules; see encode-integers.ts.

const I32 = 0x7f;
const V128 = 0x7b;
const F64 = 0x7c;
const VOID = 0x40;

export const times = (count: number, code: (i: number) => Code): Code => Array.from({ length: count }, (_, i) => code(i));

export const when = (condition: Code, body: Code): Code => [condition, 0x04, VOID, body, 0x0b];
export const result = (value: Code): Code => [value, 0x0f];

/** body while local < end (unsigned, so a count below zero ends it too), tested before each turn; `next` moves the local on. */
export const whileLess = (local: number, end: Code, body: Code, next: Code): Code => [
  [0x02, VOID, get(local), end, 0x4f, 0x0d, 0],
  [0x03, VOID, body, next, get(local), end, 0x49, 0x0d, 0, 0x0b],
  0x0b,
];

export interface Kernel {
  readonly name: string;
  /** Integer parameters. */ readonly params: number;
  /** Integer locals, numbered after the parameters. */ readonly ints: number;
  readonly floats: number;
  readonly pairs: number;
  /** true when it leaves an integer. */ readonly returns: boolean;
  readonly body: Code;
}

/** Writes code out as bytes. */
function writeOut(code: Code, out: number[]): number[] {
  for (let i = 0; i < code.length; i++) {
    const part = code[i]!;
    if (typeof part === 'number') out.push(part);
    else writeOut(part, out);
  }
  return out;
}

/** A module that imports one memory as m.m and exports the kernels. */
export function encodeModule(kernels: readonly Kernel[]): Uint8Array<ArrayBuffer> {
  const name = (text: string): Code => [text.length, Array.from(text, (c) => c.charCodeAt(0))];
  const list = (items: readonly Code[]): Code => [unsigned(items.length), items];
  // What goes ahead of bytes is their number.
  const measured = (code: Code): Code => {
    const bytes = writeOut(code, []);
    return [unsigned(bytes.length), bytes];
  };
  const section = (id: number, content: Code): Code => [id, measured(content)];
  const types = kernels.map((k) => [0x60, list(Array.from({ length: k.params }, () => [I32])), list(k.returns ? [[I32]] : [])]);
  const bodies = kernels.map((k) => {
    const locals = [
      [unsigned(k.ints), I32],
      [unsigned(k.floats), F64],
      [unsigned(k.pairs), V128],
    ];
    return measured([list(locals), k.body, 0x0b]);
  });
  const module: Code = [
    [0, 0x61, 0x73, 0x6d, 1, 0, 0, 0],
    section(1, list(types)),
    section(2, list([[name('m'), name('m'), 2, 0, 0]])),
    section(3, list(kernels.map((_, i) => unsigned(i)))),
    section(7, list(kernels.map((k, i) => [name(k.name), 0, unsigned(i)]))),
    section(10, list(bodies)),
  ];
  return new Uint8Array(writeOut(module, []));
}
