/**
 * A strict JSON reader that says where it stopped (line and column) and refuses repeated keys, which JSON.parse takes silently:
 * two panels of the same name must not become one.
 */
import { LIMITS } from './words.ts';

interface JsonFault {
  readonly line: number;
  readonly column: number;
  readonly got: string;
  readonly expected: string;
}

/** Outcome: the value, with every repeated key; or the first place where the text stops being JSON. */
export type JsonResult =
  | { readonly ok: true; readonly value: unknown; readonly repeated: readonly { readonly path: readonly (string | number)[]; readonly line: number }[] }
  | { readonly ok: false; readonly fault: JsonFault };

class Stop extends Error {
  constructor(
    readonly where: number,
    readonly expected: string,
  ) {
    super(expected);
  }
}

const ESCAPES: Readonly<Record<string, string>> = { '"': '"', '\\': '\\', '/': '/', b: '\b', f: '\f', n: '\n', r: '\r', t: '\t' };
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][-+]?\d+)?/y;

class Reader {
  at = 0;
  readonly repeated: { path: readonly (string | number)[]; line: number }[] = [];
  private readonly path: (string | number)[] = [];
  constructor(readonly text: string) {}

  blank(): void {
    const { text } = this;
    while (this.at < text.length) {
      const c = text.charCodeAt(this.at);
      if (c !== 32 && c !== 10 && c !== 13 && c !== 9) break;
      this.at++;
    }
  }

  value(): unknown {
    this.blank();
    if (this.path.length > LIMITS.depth) throw new Stop(this.at, `at most ${LIMITS.depth} levels`);
    const c = this.text[this.at];
    if (c === '{') return this.object();
    if (c === '[') return this.list();
    if (c === '"') return this.string();
    if (this.text.startsWith('true', this.at)) return this.word('true', true);
    if (this.text.startsWith('false', this.at)) return this.word('false', false);
    if (this.text.startsWith('null', this.at)) return this.word('null', null);
    NUMBER.lastIndex = this.at;
    const m = NUMBER.exec(this.text);
    if (!m) throw new Stop(this.at, 'a value: text in double quotes, a number, a list or an object');
    this.at += m[0].length;
    return Number(m[0]);
  }

  private word<T>(text: string, value: T): T {
    this.at += text.length;
    return value;
  }

  private string(): string {
    const { text } = this;
    const start = this.at++;
    let out = '';
    for (;;) {
      const from = this.at;
      while (this.at < text.length && text[this.at] !== '"' && text[this.at] !== '\\' && text.charCodeAt(this.at) >= 32) this.at++;
      out += text.slice(from, this.at);
      const c = text[this.at];
      if (c === '"') {
        this.at++;
        return out;
      }
      if (c !== '\\') throw new Stop(this.at >= text.length ? start : this.at, 'a closing double quote on the same line');
      const e = text[this.at + 1];
      if (e === 'u' && /^[0-9a-fA-F]{4}$/.test(text.slice(this.at + 2, this.at + 6))) {
        out += String.fromCharCode(Number.parseInt(text.slice(this.at + 2, this.at + 6), 16));
        this.at += 6;
      } else if (e !== undefined && Object.hasOwn(ESCAPES, e)) {
        out += ESCAPES[e];
        this.at += 2;
      } else throw new Stop(this.at, 'a known escape such as \\" or \\n');
    }
  }

  private list(): unknown[] {
    const out: unknown[] = [];
    this.at++;
    this.blank();
    if (this.text[this.at] === ']') {
      this.at++;
      return out;
    }
    for (;;) {
      this.path.push(out.length);
      out.push(this.value());
      this.path.pop();
      this.blank();
      const c = this.text[this.at];
      if (c !== ',' && c !== ']') throw new Stop(this.at, '"," or "]" in a list');
      this.at++;
      if (c === ']') return out;
    }
  }

  private object(): Record<string, unknown> {
    const entries = new Map<string, unknown>();
    this.at++;
    this.blank();
    if (this.text[this.at] === '}') {
      this.at++;
      return {};
    }
    for (;;) {
      this.blank();
      const where = this.at;
      if (this.text[where] !== '"') throw new Stop(where, 'a key in double quotes');
      const key = this.string();
      if (entries.has(key)) this.repeated.push({ path: [...this.path, key], line: place(this.text, where).line });
      this.blank();
      if (this.text[this.at] !== ':') throw new Stop(this.at, '":" after a key');
      this.at++;
      this.path.push(key);
      entries.set(key, this.value());
      this.path.pop();
      this.blank();
      const c = this.text[this.at];
      if (c !== ',' && c !== '}') throw new Stop(this.at, '"," or "}" in an object');
      this.at++;
      // fromEntries defines own properties, so a key such as "__proto__" stays an ordinary key.
      if (c === '}') return Object.fromEntries(entries);
    }
  }
}

function place(text: string, where: number): { line: number; column: number } {
  let line = 1;
  let start = 0;
  for (let i = text.indexOf('\n'); i >= 0 && i < where; i = text.indexOf('\n', i + 1)) {
    line++;
    start = i + 1;
  }
  return { line, column: where - start + 1 };
}

/** Reads JSON text. Errors: { ok: false } with line and column (both from 1), what stands there and what was expected. */
export function readJson(text: string): JsonResult {
  const reader = new Reader(text.charCodeAt(0) === 0xfeff ? text.slice(1) : text);
  try {
    const value = reader.value();
    reader.blank();
    if (reader.at < reader.text.length) throw new Stop(reader.at, 'nothing after the closing brace');
    return { ok: true, value, repeated: reader.repeated };
  } catch (error) {
    if (!(error instanceof Stop)) throw error;
    const rest = reader.text.slice(error.where, error.where + 20).split('\n')[0];
    const got = error.where >= reader.text.length ? 'the end of the file' : JSON.stringify(rest);
    return { ok: false, fault: { ...place(reader.text, error.where), got, expected: error.expected } };
  }
}
