import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { parseBag } from '../../src/bag/index.ts';
import { draftPanels } from '../../src/panels/draft-panels.ts';
import { flatSvg } from '../../src/pattern/flat.ts';

const demo = JSON.parse(readFileSync(new URL('../../demos/pocket-tote.bag.json', import.meta.url), 'utf8')) as {
  straps: Record<string, { from: object; to: object }>;
};

/** The strap's patches on the flat panels, drawn as this kind: path commands without their numbers. */
function drawn(kind: string): string[] {
  const [name, strap] = Object.entries(demo.straps)[0]!,
    bag = parseBag({ ...demo, straps: { [name]: { ...strap, from: { ...strap.from, kind }, to: { ...strap.to, kind } } } });
  return [...flatSvg(bag, draftPanels(bag)).matchAll(/class="patch" d="([^"]*)"><title>([^<]*)/g)].map(([, d, title]) => {
    expect(title).toBe(`${name}: ${kind}`);
    return d!.replace(/[^a-zA-Z]/g, '');
  });
}

// A box is one outline; a cross adds two lines, a row one; a rivet is two rings, a loop the sewn half under one.
it.each([
  ['box', 'MhvhZ'],
  ['box with cross', 'MhvhZMLML'],
  ['row', 'MhvhZMh'],
  ['rivet', 'MaaMaa'],
  ['ring loop', 'MhvhZMaa'],
])('a strap held by a %s is drawn as one on both panels', (kind, path) => {
  expect(drawn(kind)).toEqual([path, path]);
});
