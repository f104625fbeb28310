// Declarations of the library as they are shipped: only what its entries reach, with every name taken from the file that declares it.
//
// A stage's index.d.ts names all that the stage has. A compiler that follows it reads files that nothing public speaks of, and those ask for the types of packages (zod)
// and through them for a browser's. So each re-export is led past the index to its own file, and what is no longer reached is left out.
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';

const NAMES = /\b(import|export) (type )?\{([^}]*)\} from '(\.{1,2}\/[^']+)';/g;
const STAR = /\bexport (?:type )?\* from '(\.{1,2}\/[^']+)';/g;
const ANY = /(?:\bfrom |\bimport\()['"](\.{1,2}\/[^'"]+)['"]/g;

const target = (file, from) => join(dirname(file), from.replace(/\.js$/, '.d.ts'));
const entriesOf = (list) =>
  list
    .split(',')
    .map((part) => part.trim())
    .filter(Boolean)
    .map((part) => {
      const typeOnly = part.startsWith('type ');
      const [name, as = name] = part.replace(/^type /, '').split(' as ');
      return { name, as, typeOnly };
    });

/** The file that declares `name` as `file` hands it on, and its name there. */
function origin(file, name, read) {
  const text = read(file);
  for (const [, word, , list, from] of text.matchAll(NAMES)) {
    if (word !== 'export') continue;
    const entry = entriesOf(list).find((e) => e.as === name);
    if (entry) return origin(target(file, from), entry.name, read);
  }
  if (new RegExp(`^export (?:declare )?(?:abstract )?(?:const|let|function\\*?|class|interface|type|enum) ${name}\\b`, 'm').test(text)) return { file, name };
  if (new RegExp(`\\bexport \\{[^}]*\\b${name}\\b[^}]*\\};`).test(text)) return { file, name };
  for (const [, from] of text.matchAll(STAR)) {
    const found = origin(target(file, from), name, read);
    if (found) return found;
  }
  return null;
}

/** Straightens and thins the declarations of a folder; `entries` are files in it. Throws where one that is reached names a package. */
export function shipped(folder, entries) {
  const texts = new Map(
    readdirSync(folder, { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.d.ts'))
      // tsc keeps `./x.ts` in declarations; only some readers map that to x.d.ts, while all of them map `./x.js`.
      .map((name) => [
        join(folder, name),
        readFileSync(join(folder, name), 'utf8').replace(/(\bfrom |\bimport\()(['"])(\.{1,2}\/[^'"]*)\.ts\2/g, '$1$2$3.js$2'),
      ]),
  );
  const read = (file) => {
    const text = texts.get(file);
    if (text === undefined) throw new Error(`no declarations in ${relative(folder, file)}`);
    return text;
  };
  const straight = new Map(
    [...texts].map(([file, text]) => [
      file,
      text.replace(NAMES, (all, word, typeWord = '', list, from) => {
        if (!from.endsWith('/index.js')) return all;
        return entriesOf(list)
          .map(({ name, as, typeOnly }) => {
            const own = origin(target(file, from), name, read);
            if (own === null) throw new Error(`${relative(folder, file)}: ${name} is not found behind ${from}`);
            const way = relative(dirname(file), own.file)
              .replaceAll('\\', '/')
              .replace(/\.d\.ts$/, '.js');
            return `${word} ${typeWord || (typeOnly ? 'type ' : '')}{ ${own.name}${as === own.name ? '' : ` as ${as}`} } from '${way.startsWith('.') ? way : `./${way}`}';`;
          })
          .join('\n');
      }),
    ]),
  );
  const reached = new Set();
  const visit = (file, way) => {
    if (reached.has(file)) return;
    reached.add(file);
    const text = straight.get(file);
    const above = [...way, relative(folder, file)];
    if (text === undefined) throw new Error(`${above.join(' -> ')}: no such declarations`);
    const outside = /(?:\bfrom |\bimport\()['"]([^.'"][^'"]*)['"]/.exec(text);
    if (outside) throw new Error(`${above.join(' -> ')} is public and names the package ${outside[1]}`);
    for (const [, from] of text.matchAll(ANY)) visit(target(file, from), above);
  };
  for (const entry of entries) visit(join(folder, entry), []);
  for (const [file, text] of straight) {
    if (reached.has(file)) writeFileSync(file, text);
    else if (existsSync(file)) rmSync(file);
  }
  return { files: reached.size, left: straight.size - reached.size };
}
