import { expect, it } from 'vitest';
import { assemble, checkBulk, checkMembers } from '../../src/assembly/index.ts';
import { parseBag } from '../../src/bag/index.ts';
import { layUp, sewnLayers } from '../../src/material/index.ts';
import { meshPanels } from '../../src/mesh/index.ts';
import { draftPanels } from '../../src/panels/index.ts';
import { flatSvg } from '../../src/pattern/index.ts';
import { placePanels } from '../../src/placement/index.ts';
import { statedStack } from '../bag/stated-stack.ts';

/** A rectangle of 200 x 100 mm with corners of 12 mm radius below. */
const panel = (members: object, hardware: object = {}) =>
  parseBag({
    slumpline: 1,
    panels: { p: { rectangle: { width: '200 mm', height: '100 mm', radius: '12 mm' }, clips: [{ point: ['100 mm', '50 mm'] }] } },
    members,
    hardware,
    stacks: { cloth: statedStack(400, 500, { thickness: '0.5 mm' }) },
    options: { o: { 'every panel': 'cloth' } },
    stances: { held: {} },
  });
const edges = panel({}).panels[0]!.outline,
  arc = edges.find((e) => e.kind !== 'line')!.name,
  straight = edges.find((e) => e.kind === 'line')!.name;

it('a cord of 4 mm goes round a corner of 12 mm radius and one of 6 mm does not; a straight wire of 1.5 mm is strained by d/2R = 6.3 % there, one formed to it is not', () => {
  const says = (member: object): string[] => checkMembers(panel({ m: { along: `p.${arc}`, ...member } })).map((f) => f.text);
  expect(says({ kind: 'cotton cord', size: '3.9 mm' })).toEqual([]);
  expect(says({ kind: 'cotton cord', size: '6 mm' })[0]).toMatch(/too thick for the curve of 12 mm radius.*18 mm, three cords/);
  expect(says({ kind: 'spring wire', size: '1.5 mm' })[0]).toMatch(/strained by 6\.3 %/);
  expect(says({ kind: 'spring wire', size: '1.5 mm', formed: 'as drawn' })).toEqual([]);
});

it('a frame bought ready that is 20 mm longer than its line is told, one 1 mm off is not', () => {
  const frame = (length: string) => checkMembers(panel({ m: { along: `p.${straight}`, kind: 'metal frame', length } }));
  // 200 mm less two corners of 12 mm.
  expect(frame('177 mm')).toEqual([]);
  expect(frame('196 mm')[0]!.text).toMatch(/20 mm longer than its line of 176 mm/);
});

it('a ring on an open line is a fault with its path and how far its ends are apart', () => {
  const bag = panel({ m: { along: `p.${straight}`, kind: 'spring wire', ends: 'ring' } }),
    draft = draftPanels(bag),
    mesh = meshPanels(bag, draft, { edgeLength: 0.02 }),
    laminates = layUp(bag, 'o', 'mid');
  expect(() => assemble(bag, mesh, laminates, sewnLayers(bag, laminates, 'mid'), placePanels(bag, draft, mesh).positions, bag.stances[0]!)).toThrow(
    /members\.m\.ends.*176 mm apart/,
  );
});

it('the flat drawing shows a member as wide as it is and hardware at its place, each with its words', () => {
  const bag = panel(
      { piping: { along: `p.${straight}`, kind: 'paper cord', size: '5 mm' } },
      { lock: { kind: 'clasp', panel: 'p', at: [['100 mm', '50 mm']], size: '30 mm' } },
    ),
    svg = flatSvg(bag, draftPanels(bag));
  expect(svg).toMatch(/stroke-width="5"[^>]*><title>piping: paper cord of 5 mm<\/title>/);
  expect(svg).toMatch(/a15 15 0 1 0 30 0[^>]*><title>lock: 1 clasp of 30 mm<\/title>/);
});

it('a seam of 3 mm that is sewn across a cord of 4 mm is told as 7 mm thick there; not where the cord is cut out of its allowance, nor one in the seam itself, nor one of 2.5 mm', () => {
  const says = (member: object): string[] => {
    const bag = parseBag({
      slumpline: 1,
      panels: { p: { rectangle: { width: '200 mm', height: '100 mm' } }, q: { copy: 'p' } },
      seams: { side: { join: ['p.right', 'q.right'], type: 'plain', allowance: '10 mm' } },
      members: { piping: { kind: 'paper cord', size: '4 mm', ...member } },
      stacks: { cloth: statedStack(400, 500, { thickness: '1 mm' }) },
      options: { o: { 'every panel': 'cloth' } },
      stances: { standing: {} },
    });
    return checkBulk(bag, draftPanels(bag)).map((f) => f.text);
  };
  // Both allowances and the panel that they are pressed over, 1 mm each, and the cord.
  expect(says({ along: 'p.top' })[0]).toMatch(/Seam side is 7 mm thick where it crosses member piping, paper cord of 4 mm/);
  expect(says({ along: 'p.bottom' })[0]).toMatch(/7 mm/);
  for (const fine of [{ along: 'p.top', 'stops short': '10 mm' }, { along: 'p.right' }, { along: 'p.left' }, { along: 'p.top', size: '2.5 mm' }])
    expect(says(fine)).toEqual([]);
});
