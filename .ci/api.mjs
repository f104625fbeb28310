// node .ci/api.mjs [--write]: the public names of src/index.ts, one line each from their docstrings, as src/run/API.md. Without --write it prints them.
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

const room = (file) => file.split('/')[1];

/** The list as Markdown, and the names that have no docstring. */
export function apiList() {
  const names = [...exportsOf('src/index.ts')].sort(([a], [b]) => (a < b ? -1 : 1));
  const rooms = [...new Set(names.map(([, own]) => room(own.file)))].sort();
  const missing = [];
  const lines = rooms.flatMap((r) => [
    '',
    `## ${r === 'index.ts' ? 'the entry' : r}`,
    '',
    ...names
      .filter(([, own]) => room(own.file) === r)
      .map(([name, own]) => {
        const words = sentence(own);
        if (words === null) missing.push(name);
        const kind = /^(interface|type)$/.test(own.kind) ? ' (type)' : '';
        return `- \`${name}\`${kind}: ${words ?? 'see its type'}`;
      }),
  ]);
  const head = [
    '# Public names',
    '',
    "Made from the docstrings by `npm run docs:api -- --write`; a test fails while it is stale. `import { ... } from 'slumpline'`; units SI, positions 3 numbers a point, z up.",
    'Formulas, units, errors and sources stand in the docstrings, which editors show. Begin with `preview`.',
  ];
  return { text: `${[...head, ...lines].join('\n')}\n`, missing, count: names.length };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { text, missing, count } = apiList();
  if (process.argv.includes('--write')) writeFileSync(join(root, 'src/run/API.md'), text);
  else console.log(text);
  console.error(`${count} names, ${missing.length} without a docstring of their own: ${missing.join(', ')}`);
}
