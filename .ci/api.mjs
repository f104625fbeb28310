// node .ci/api.mjs [--write]: the public names of src/public, one line each, functions with their parameters and result, from the source, as src/run/API.md. Without --write it prints them.
// (No documentation generator on the registry takes TypeScript 7 yet.)
import { readFileSync, writeFileSync } from 'node:fs';
import { join, posix } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const read = (file) => readFileSync(join(root, file), 'utf8');

/** Names that a module hands on: name -> { file, original, typeOnly }. */
function exportsOf(file, seen = new Set()) {
  const out = new Map();
  if (seen.has(file)) return out;
  seen.add(file);
  const text = read(file);
  for (const [, names, from] of text.matchAll(/^export (?:type )?\{([^}]*)\} from '([^']+)';/gm)) {
    const target = exportsOf(posix.join(posix.dirname(file), from), new Set(seen));
    for (const entry of names
      .split(',')
      .map((n) => n.trim())
      .filter(Boolean)) {
      const [original, name = original] = entry.replace(/^type /, '').split(' as ');
      const own = target.get(original);
      if (!own) throw new Error(`${file}: ${original} is not exported by ${from}`);
      out.set(name, own);
    }
  }
  for (const [, from] of text.matchAll(/^export (?:type )?\* from '([^']+)';/gm))
    for (const [name, own] of exportsOf(posix.join(posix.dirname(file), from), new Set(seen))) if (!out.has(name)) out.set(name, own);
  for (const [, kind, name] of text.matchAll(/^export (?:abstract |async )*(const|function\*?|class|interface|type|enum) (\w+)/gm))
    out.set(name, { file, name, kind });
  return out;
}

/** Where a declaration begins in its file, and the file's text. */
function placeOf({ file, name, kind }) {
  const text = read(file);
  return { text, at: text.search(new RegExp(`^export (?:abstract |async )*${kind.replace('*', '\\*')} ${name}\\b`, 'm')) };
}

/** What stands above a declaration, in one line, or null. */
function docstring(made) {
  const { text, at } = placeOf(made);
  const above = /\/\*\*((?:(?!\*\/)[\s\S])*)\*\/\s*$/.exec(text.slice(0, at));
  if (!above) return null;
  return above[1]
    .replace(/^\s*\* ?/gm, ' ')
    .replace(/\s+/g, ' ')
    .trim();
}

/** Its first sentence, and of a function what it says of its parameters, errors and result; null where there is none. */
function wordsOf(made, callable) {
  const plain = docstring(made);
  if (plain === null) return null;
  const end = /[.:](?= [A-Z]|$)/.exec(plain),
    first = end ? plain.slice(0, end.index) : plain;
  const told = callable
    ? [...plain.slice(first.length).matchAll(/\b((?:Parameters?|Errors?|Throws)\b.*?)(?=\. (?:Parameters?:|Errors?:|Throws |Sources?:)|\.?$)/g)]
    : [];
  return [first, ...told.map((m) => m[1].replace(/\.? Sources?:.*$/, ''))].join('. ').replace(/\|/g, '\\|');
}

const CLOSES = { '(': ')', '[': ']', '{': '}', '<': '>' };

/** The place behind the bracket that closes the one at `from`; words in quotes and comments are stepped over. */
function behind(text, from) {
  const open = [];
  for (let i = from; i < text.length; i++) {
    const c = text[i];
    if (text.startsWith('/*', i)) i = text.indexOf('*/', i) + 1;
    else if (c === "'" || c === '`' || c === '"') i = text.indexOf(c, i + 1);
    else if (c in CLOSES) open.push(CLOSES[c]);
    else if (c === open.at(-1) && !(c === '>' && text[i - 1] === '=')) {
      open.pop();
      if (open.length === 0) return i + 1;
    }
  }
  throw new Error(`a bracket is not closed: ${text.slice(from, from + 80)}`);
}

/** The type that begins at `from`, up to `{` of a body; of an arrow function, up to its `=>`. */
function typeAt(text, from, arrow = false) {
  let i = from,
    last = ':';
  while (i < text.length) {
    const c = text[i];
    if (c === '=' && text[i + 1] === '>') {
      if (arrow) break;
      i += 2;
      last = ':';
      continue;
    }
    if (c === '=' || c === ';') break;
    if (c === '{' && !/[:|&,]/.test(last)) break;
    if (c in CLOSES) i = behind(text, i);
    else i++;
    if (c.trim() !== '') last = c;
  }
  return text.slice(from, i);
}

const oneLine = (text) =>
  text
    .replace(/\s+/g, ' ')
    .replace(/,? ([)}\]])/g, ' $1')
    .replace(/([([]) /g, '$1')
    .replace(/ ([)\]])/g, '$1')
    .trim();

/** "name(parameters): result" of a function, "name = figure" of a plain constant, "name: type" of one whose type is stated; else the name. */
function signature(made, as) {
  const { text, at } = placeOf(made),
    from = text.indexOf(made.name, at) + made.name.length;
  if (made.kind.startsWith('function')) {
    const open = text.indexOf('(', from),
      close = behind(text, open),
      result = /^\s*:/.test(text.slice(close)) ? typeAt(text, text.indexOf(':', close) + 1) : '';
    const given = oneLine(`${text.slice(from, close)}${result.trim() ? `: ${result}` : ''}`);
    return { callable: true, told: `${as}${made.kind.endsWith('*') ? '*' : ''}${given}`, result: result.trim() !== '' };
  }
  if (made.kind !== 'const') return { callable: false, told: as };
  const typed = /^\s*:/.test(text.slice(from)) ? typeAt(text, text.indexOf(':', from) + 1) : null;
  if (typed !== null) return { callable: typed.includes('=>'), told: `${as}: ${oneLine(typed)}`, result: true };
  const value = text.slice(text.indexOf('=', from) + 1).trimStart(),
    plain = /^(-?[\d.e_-]+|'[^']*')( as const)?;/.exec(value);
  if (plain) return { callable: false, told: `${as} = ${plain[1]}` };
  const head = /^(async )?[(<]/.exec(value);
  if (!head) return { callable: false, told: as };
  const open = value[head[0].length - 1] === '<' ? behind(value, head[0].length - 1) : head[0].length - 1,
    close = behind(value, open),
    rest = value.slice(close).trimStart();
  if (!/^(:|=>)/.test(rest)) return { callable: false, told: as };
  const result = rest.startsWith(':') ? typeAt(rest, 1, true) : '';
  return { callable: true, told: oneLine(`${as}${value.slice(head[0].length - 1, close)}${result.trim() ? `: ${result}` : ''}`), result: result.trim() !== '' };
}

/** Entries in the order in which a reader meets them; a name that several have is told under the first. */
export const entries = () => {
  const named = Object.keys(JSON.parse(read('package.json')).exports)
    .filter((key) => !key.endsWith('.json'))
    .map((key) => ({ from: key === '.' ? 'slumpline' : `slumpline/${key.slice(2)}`, file: `src/public/${key === '.' ? 'slumpline' : key.slice(2)}.ts` }));
  return named;
};

/** The list as Markdown, the names that have no docstring, and the functions whose result has no stated type. */
export function apiList() {
  const missing = [],
    unstated = [];
  const told = new Map();
  const lines = entries().flatMap(({ from, file }) => {
    const names = [...exportsOf(file)].sort(([a], [b]) => (a < b ? -1 : 1));
    const own = names.filter(([name]) => !told.has(name)),
      again = names.filter(([name]) => told.has(name)).map(([name]) => `\`${name}\``);
    for (const [name] of own) told.set(name, from);
    return [
      '',
      `## ${from}`,
      '',
      ...(heading(file) ? [heading(file), ''] : []),
      ...own.map(([name, made]) => {
        const { callable, told: shown, result } = signature(made, name),
          words = wordsOf(made, callable);
        if (words === null) missing.push(name);
        if (callable && !result) unstated.push(name);
        const kind = /^(interface|type)$/.test(made.kind) ? ' (type)' : '';
        return `- \`${shown}\`${kind}: ${words ?? 'see its type'}`;
      }),
      ...(again.length > 0 ? ['', `As above: ${again.join(', ')}.`] : []),
    ];
  });
  const head = [
    '# Public names',
    '',
    'Made from the docstrings by `npm run docs:api -- --write`; a test fails while it is stale. Units SI, positions 3 numbers a point, z up.',
    'Of a function: `name(parameters): result`, then what it returns, with the units of its parameters and its errors; formulas and sources stand in the docstrings, which editors show. Begin with `preview`; examples: [src/public](../public/README.md).',
  ];
  return { text: `${[...head, ...lines].join('\n')}\n`, missing, unstated, count: told.size };
}

/** What stands at the head of an entry's file. */
function heading(file) {
  const found = /^\/\*\*((?:(?!\*\/)[\s\S])*)\*\//.exec(read(file));
  return found
    ? found[1]
        .replace(/^\s*\* ?/gm, ' ')
        .replace(/\s+/g, ' ')
        .trim()
    : null;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { text, missing, unstated, count } = apiList();
  if (process.argv.includes('--write')) writeFileSync(join(root, 'src/run/API.md'), text);
  else console.log(text);
  console.error(
    `${count} names, ${missing.length} without a docstring of their own: ${missing.join(', ')}; ${unstated.length} functions without a stated result: ${unstated.join(', ')}`,
  );
}
