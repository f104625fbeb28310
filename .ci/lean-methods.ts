/** Methods of the renderer's classes that nothing calls: a bundler has to keep every method of a class it keeps. Used by .ci/lean-three.ts. */

const withoutComments = (code: string): string => code.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');

/** A method of a class as the package is printed: one tab deep, its end on a line of its own. */
const METHOD = /^\t(?:static )?(?!constructor\b)(\w+)\([^\n]*\) \{\n[\s\S]*?^\t\}$/gm;

/** Declarations of a module by name, in order: a class, a function or a value, each up to the next. */
function declarations(code: string): Map<string, string> {
  const starts = [...code.matchAll(/^(?:class|(?:async )?function\*?|const|let|var) (\w+)/gm)];
  return new Map(starts.map((start, i) => [start[1] ?? '', code.slice(start.index, starts[i + 1]?.index ?? code.lastIndexOf('\nexport {'))]));
}

/** Every name asked of anything in these texts. */
function namesAsked(texts: Iterable<string>): Set<string> {
  const names = new Set<string>();
  for (const text of texts) for (const [, name] of text.matchAll(/\.(\w+)/g)) if (name !== undefined) names.add(name);
  return names;
}

/** Declarations that the roots reach, with their texts. */
function reachable(parts: ReadonlyMap<string, string>, roots: string): Map<string, string> {
  const reached = new Map<string, string>();
  const visit = (text: string): void => {
    for (const [word] of text.matchAll(/\b[A-Za-z_$]\w*/g)) {
      const part = parts.get(word);
      if (part === undefined || reached.has(word)) continue;
      reached.set(word, part);
      visit(part);
    }
  };
  visit(roots);
  return reached;
}

/**
 * The text of a module without the methods that neither `users` nor what `roots` reach of the module itself ever name. Methods are told apart by name alone, so
 * that one of a name that is asked of anything stays; a name put together while the page runs would be missed (the package has none, and tests draw with it).
 *
 * @param code the module as the package prints it
 * @param roots text in which the module's declarations that are used are named
 * @param users texts of all that uses their methods
 */
export function leanMethods(code: string, roots: string, users: readonly string[]): string {
  const outside = users.map(withoutComments);
  const texts = reachable(declarations(withoutComments(code)), withoutComments(roots));
  let names = namesAsked([...outside, ...texts.values()]);
  for (let before = Number.POSITIVE_INFINITY; names.size < before; ) {
    before = names.size;
    for (const [name, text] of texts)
      texts.set(
        name,
        text.replace(METHOD, (method: string, called: string) => (names.has(called) ? method : '')),
      );
    names = namesAsked([...outside, ...texts.values()]);
  }
  return code.replace(METHOD, (method: string, called: string) => (names.has(called) ? method : ''));
}
