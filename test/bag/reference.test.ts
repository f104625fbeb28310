import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { ran } from '../cli/desk.ts';

const PAGE = fileURLToPath(new URL('../../src/bag/README.md', import.meta.url));
const MARK = '<!-- From here on made from the schema: npm run docs:bag -->\n';

/** A line cut at blanks to at most 160 characters; what follows is indented by eight more, deeper than any key under it. */
function wrapped(line: string): string[] {
  const under = `${/^ */.exec(line)![0]}        `;
  const out: string[] = [];
  let rest = line;
  while (rest.length > 160 && rest.lastIndexOf(' ', 160) > under.length) {
    const cut = rest.lastIndexOf(' ', 160);
    out.push(rest.slice(0, cut));
    rest = `${under}${rest.slice(cut + 1)}`;
  }
  return [...out, rest];
}

it('the keys in src/bag/README.md are those that `slumpline keys` tells, no line over 160 characters', async () => {
  const written = readFileSync(PAGE, 'utf8');
  const head = written.slice(0, written.indexOf(MARK) + MARK.length);
  expect(written.indexOf(MARK), 'the line that parts what is written from what is made').toBeGreaterThan(0);
  const keys = (await ran(['keys'])).out.trimEnd().split('\n').flatMap(wrapped);
  const whole = `${head}\n\`\`\`text\n${keys.join('\n')}\n\`\`\`\n`;
  for (const line of whole.split('\n')) expect(line.length, line).toBeLessThanOrEqual(160);
  // `npm run docs:bag` writes it anew.
  await expect(whole).toMatchFileSnapshot(PAGE);
});
