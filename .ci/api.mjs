// node .ci/api.mjs [--write]: the public names of src/public, one line each from their docstrings, as src/run/API.md. Without --write it prints them.
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

/** The first sentence of what stands above a declaration, or null. */
function sentence({ file, name, kind }) {
  const text = read(file);
  const at = text.search(new RegExp(`^export (?:abstract |async )*${kind.replace('*', '\\*')} ${name}\\b`, 'm'));
  const above = /\/\*\*((?:(?!\*\/)[\s\S])*)\*\/\s*$/.exec(text.slice(0, at));
  if (!above) return null;
  const plain = above[1]
    .replace(/^\s*\* ?/gm, ' ')
    .replace(/\s+/g, ' ')
    .trim();
  const end = /[.:](?= [A-Z]|$)/.exec(plain);
  return (end ? plain.slice(0, end.index) : plain).replace(/\|/g, '\\|');
}

/** Entries in the order in which a reader meets them; a name that several have is told under the first. */
export const entries = () => {
  const named = Object.keys(JSON.parse(read('package.json')).exports)
    .filter((key) => !key.endsWith('.json'))
    .map((key) => ({ from: key === '.' ? 'slumpline' : `slumpline/${key.slice(2)}`, file: `src/public/${key === '.' ? 'slumpline' : key.slice(2)}.ts` }));
  return named;
};

/** The list as Markdown, and the names that have no docstring. */
export function apiList() {
  const missing = [];
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
        const words = sentence(made);
        if (words === null) missing.push(name);
        const kind = /^(interface|type)$/.test(made.kind) ? ' (type)' : '';
        return `- \`${name}\`${kind}: ${words ?? 'see its type'}`;
      }),
      ...(again.length > 0 ? ['', `As above: ${again.join(', ')}.`] : []),
    ];
  });
  const head = [
    '# Public names',
    '',
    'Made from the docstrings by `npm run docs:api -- --write`; a test fails while it is stale. Units SI, positions 3 numbers a point, z up.',
    'Formulas, units, errors and sources stand in the docstrings, which editors show. Begin with `preview`; examples: [src/public](../public/README.md).',
  ];
  return { text: `${[...head, ...lines].join('\n')}\n`, missing, count: told.size };
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
  const { text, missing, count } = apiList();
  if (process.argv.includes('--write')) writeFileSync(join(root, 'src/run/API.md'), text);
  else console.log(text);
  console.error(`${count} names, ${missing.length} without a docstring of their own: ${missing.join(', ')}`);
}
