import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Bag, BagError, newBag, parseBag, templates } from '../../src/bag/index.ts';
import { checkPattern } from '../../src/panels/check.ts';
import { topologyFindings } from '../../src/panels/check-topology.ts';
import { draftPanels } from '../../src/panels/draft-panels.ts';
import { PatternError, refuseUnsewable } from '../../src/panels/refuse.ts';
import { shapeOf, surfaceOf } from '../../src/panels/surface.ts';
import { sewable } from '../bag/sewable.ts';
import { overridesOf } from '../bag/templates-sizes.ts';
import * as bags from '../mesh/bags.ts';
import { BOX_PANELS, BOX_SEAMS, bagFile, GUSSETED, WRONG } from './wrong-bags.ts';

const faultsOf = (bag: Bag) => checkPattern(bag, draftPanels(bag)).faults.map((f) => `${f.kind}: ${f.text}`);
const check = (panels: object, seams: object, more: object = {}) => {
  const bag = parseBag(bagFile(panels, seams, more));
  return checkPattern(bag, draftPanels(bag));
};
const rectangle = (w: number, h: number) => ({ rectangle: { width: `${w} mm`, height: `${h} mm` } });

describe('bags that cannot be sewn are refused, with the seam or edge by name', () => {
  it.each(WRONG.map((w) => [w.what, w] as const))('%s', (_what, wrong) => {
    const bag = parseBag(wrong.file);
    const begun = performance.now();
    let caught: unknown;
    try {
      refuseUnsewable(bag, draftPanels(bag));
    } catch (error) {
      caught = error;
    }
    console.log(`${(performance.now() - begun).toFixed(1)} ms; aim under 1 s`);
    expect(caught).toBeInstanceOf(PatternError);
    const { findings, faults } = caught as PatternError;
    const told = findings.map((f) => f.text).join('\n');
    expect(findings[0].kind, told).toBe(wrong.kind);
    expect(faults[0].path.startsWith(wrong.path), `${faults[0].path}, expected ${wrong.path}`).toBe(true);
    for (const word of wrong.words) expect(findings[0].text).toContain(word);
    expect(findings.length, told).toBe(wrong.faults);
  });

  it('what the error says with path, got and expected holds the words of the check: every fault that advises, whole', () => {
    for (const wrong of WRONG) {
      const bag = parseBag(wrong.file);
      try {
        refuseUnsewable(bag, draftPanels(bag));
        expect.fail(wrong.what);
      } catch (error) {
        if (!(error instanceof PatternError)) throw error;
        error.findings.forEach((f, i) => {
          const { got, expected } = error.faults[i];
          if (f.found) expect(f.text).toBe(`${got} Expected ${expected}.`);
          else expect(got).toBe(f.text);
        });
        expect(error).toBeInstanceOf(BagError);
      }
    }
  });

  it('three seams over one another, each 3 mm further along than the last: no place comes back to itself, a fault that names one of the seams', () => {
    const strip = { ...rectangle(300, 60), open: ['left', 'right', 'top', 'bottom'] };
    const { faults } = check(
      { a: strip, b: strip, c: strip },
      {
        S: ['a.top', 'b.bottom'],
        T: { join: ['b.bottom[0%..60%]', 'c.bottom[0%..60%]'], direction: 'against' },
        U: { join: ['c.bottom[0%..60%]', 'a.top[39%..99%]'], direction: 'along' },
      },
    );
    expect(faults.map((f) => f.kind)).toEqual(['ring open']);
    expect(faults[0].text).toContain(`seams round ${faults[0].seam} disagree`);
  });
});

describe('bags that can be sewn pass', () => {
  it('the box tote and the gusseted bag that the wrong ones are made from', () => {
    expect(faultsOf(parseBag(bagFile(BOX_PANELS, BOX_SEAMS)))).toEqual([]);
    expect(faultsOf(parseBag(GUSSETED))).toEqual([]);
  });
  it('every template, as it is and at 10 sizes each: 0 faults, 0 findings of topology', () => {
    for (const t of templates()) {
      const texts = [t.text, ...fc.sample(overridesOf(t.name), { seed: 31, numRuns: 10 }).map((o) => newBag(t.name, o))];
      for (const text of texts) {
        const bag = parseBag(text);
        expect(faultsOf(bag), t.name).toEqual([]);
        expect(topologyFindings(bag, draftPanels(bag)), t.name).toEqual([]);
      }
    }
  });
  it('every demo: 0 faults, 0 findings of topology', () => {
    const files = readdirSync('demos').filter((name) => name.endsWith('.bag.json'));
    expect(files.length).toBeGreaterThan(5);
    for (const name of files) {
      const bag = parseBag(readFileSync(`demos/${name}`, 'utf8'));
      expect(faultsOf(bag), name).toEqual([]);
      expect(topologyFindings(bag, draftPanels(bag)), name).toEqual([]);
    }
  });
  it('every bag of the mesh tests (handles, pocket, divider-like third layers, shoulder strap, flap): 0 faults', () => {
    for (const [name, make] of Object.entries(bags)) {
      if (name === 'sewn') continue;
      const { bag } = (make as () => { bag: Bag })();
      expect(faultsOf(bag), name).toEqual([]);
    }
  });
  it('200 random sewable bags: 0 faults, and a body without handles', () => {
    for (let seed = 1; seed <= 200; seed++) {
      const bag = parseBag(sewable(seed).file);
      const draft = draftPanels(bag);
      expect(faultsOf(bag), `seed ${seed}`).toEqual([]);
      expect(topologyFindings(bag, draft), `seed ${seed}`).toEqual([]);
      expect(shapeOf(draft, surfaceOf(bag, draft)), `seed ${seed}`).toMatchObject({ pieces: 1, handles: 0 });
    }
  });

  const wall = { ...rectangle(300, 240), open: ['top'] };
  const tube = { ...rectangle(300, 240), open: ['top', 'bottom'] };
  const divider = { ...rectangle(100, 200), open: ['top', 'bottom'] };
  it.each<[string, object, object, object]>([
    ['an open tube, both ends named', { front: tube, back: tube }, { a: ['front.left', 'back.right'], b: ['front.right', 'back.left'] }, {}],
    ['a divider between the sides', { ...BOX_PANELS, middle: { ...rectangle(300, 240), open: ['top', 'bottom'] } }, dividerSeams(), {}],
    ['a panel stitched down over the whole front', { ...BOX_PANELS, overlay: rectangle(300, 240) }, overlaySeams(), {}],
    [
      'a facing round the mouth of a flat tote',
      { front: wall, back: wall, 'front facing': rectangle(300, 40), 'back facing': rectangle(300, 40) },
      facedSeams(),
      {},
    ],
    [
      'a flap whose free edges are not named',
      { ...BOX_PANELS, back: { ...wall, open: [] }, flap: rectangle(300, 150) },
      { ...BOX_SEAMS, L: ['back.top', 'flap.bottom'] },
      {},
    ],
    [
      'a pocket with its sides left open',
      { ...BOX_PANELS, pocket: rectangle(300, 140) },
      { ...BOX_SEAMS, A: ['front.bottom', 'base.bottom', 'pocket.bottom'] },
      {},
    ],
    [
      'two strips held at a clip, sewn along an edge',
      { a: { ...rectangle(60, 200), clips: [{ edge: 'bottom' }] }, b: rectangle(60, 200) },
      { S: ['a.right', 'b.left'] },
      { stances: { held: {} } },
    ],
    [
      'two offcuts over a ball, not sewn',
      { a: rectangle(200, 200), b: rectangle(200, 200) },
      {},
      { stances: { over: { kind: 'standing', forms: [{ form: 'ball', diameter: '100 mm' }] } } },
    ],
    ['one panel by itself', { swatch: rectangle(200, 200) }, {}, {}],
    [
      'a board that the file says where it lies',
      { ...BOX_PANELS, board: { ...divider, pose: { origin: [0, 0, 0], x: [1, 0, 0], y: [0, 1, 0] } } },
      BOX_SEAMS,
      {},
    ],
    ['a gap of 2 mm left in a side seam', BOX_PANELS, { ...BOX_SEAMS, E: ['front.right[2 mm..240 mm]', 'right.left[0 mm..238 mm]'] }, {}],
  ])('%s: 0 faults', (_what, panels, seams, more) => {
    expect(check(panels, seams, more).faults.map((f) => f.text)).toEqual([]);
  });

  it('a bag meant to be a ring (a tunnel through it) is a warning with 1 hole, no fault', () => {
    // Two square sheets with a square hole each; the hole's edges joined by a tunnel of four walls.
    const hole = { rectangle: { at: ['100 mm', '100 mm'], width: '100 mm', height: '100 mm' } };
    const sheet = { ...rectangle(300, 300), holes: [hole], open: ['top'] };
    const { faults, warnings } = check(
      { front: sheet, back: sheet, tunnel: { role: 'body', rectangle: { width: '400 mm', height: '80 mm' } } },
      {
        around: [
          ['front.left', 'front.bottom', 'front.right'],
          ['back.left', 'back.bottom', 'back.right'],
        ],
        shut: ['tunnel.left', 'tunnel.right'],
        'front hole': ['front.hole1', 'tunnel.bottom'],
        'back hole': ['back.hole1', 'tunnel.top'],
      },
    );
    expect(faults.map((f) => f.text)).toEqual([]);
    expect(warnings.map((w) => `${w.kind} ${w.figure}`)).toContain('ring 1 hole');
  });
});

function dividerSeams(): object {
  return { ...BOX_SEAMS, E: ['front.right', 'right.left', 'middle.right'], H: ['left.right', 'front.left', 'middle.left'] };
}
function overlaySeams(): object {
  return {
    ...BOX_SEAMS,
    A: ['front.bottom', 'base.bottom', 'overlay.bottom'],
    E: ['front.right', 'right.left', 'overlay.right'],
    H: ['front.left', 'left.right', 'overlay.left'],
    mouth: { join: ['front.top', 'overlay.top'], direction: 'along' },
  };
}
function facedSeams(): object {
  return {
    around: [
      ['front.left', 'front.bottom', 'front.right'],
      ['back.left', 'back.bottom', 'back.right'],
    ],
    'front turn': ['front.top', 'front facing.bottom'],
    'back turn': ['back.top', 'back facing.bottom'],
    l: ['front facing.left', 'back facing.right'],
    r: ['front facing.right', 'back facing.left'],
  };
}

describe('what is left to warn of', () => {
  const warned = (panels: object, seams: object) => {
    const bag = parseBag(bagFile(panels, seams));
    expect(faultsOf(bag)).toEqual([]);
    return topologyFindings(bag, draftPanels(bag)).map((f) => `${f.kind}, seam ${f.seam}, ${f.figure}`);
  };
  it('a square of cloth folded corner to corner is a warning at each of its two points of 90 deg, no fault', () => {
    expect(
      warned({ cloth: { role: 'body', ...rectangle(300, 300), open: [] } }, { a: ['cloth.bottom', 'cloth.right'], b: ['cloth.top', 'cloth.left'] }),
    ).toEqual(['folded corner, seam a, 90 deg', 'folded corner, seam b, 90 deg']);
  });
  it('two squares whose tops come to lie at either end of a tube are a warning of a mouth in 2 parts', () => {
    const square = { ...rectangle(300, 300), open: ['top'] };
    expect(
      warned({ front: square, back: square }, { A: ['front.left', 'back.bottom'], B: ['front.bottom', 'back.left'], C: ['front.right', 'back.right'] }),
    ).toEqual(['mouth in parts, seam null, 2 parts']);
  });
  it('a body rolled into a tube is no matter: 0 findings', () => {
    expect(warned({ body: { role: 'body', ...rectangle(600, 240), open: ['top', 'bottom'] } }, { shut: ['body.left', 'body.right'] })).toEqual([]);
  });
  it('the free sides of a pocket, an opening sewn shut by a flap, a mouth that is not listed: warnings, for a report to repeat', () => {
    const bag = parseBag(
      bagFile(
        { ...BOX_PANELS, front: { ...rectangle(300, 240), open: [] }, pocket: rectangle(300, 140), flap: rectangle(300, 90) },
        { ...BOX_SEAMS, A: ['front.bottom', 'base.bottom', 'pocket.bottom'], L: ['back.top', 'flap.bottom'] },
      ),
    );
    const found = topologyFindings(bag, draftPanels(bag));
    expect(found.map((f) => `${f.kind} ${f.panel}.${f.edge} ${f.figure}`)).toEqual([
      'unsewn front.top 300 mm',
      'unsewn pocket.right 140 mm',
      'unsewn pocket.left 140 mm',
      'unsewn flap.right 90 mm',
      'unsewn flap.left 90 mm',
      'opening sewn back.top 300 mm',
    ]);
    expect(checkPattern(bag, draftPanels(bag)).faults).toEqual([]);
  });
  it('handles: 0 for the box tote, 1 once a side is sewn inside out, null where the face is turned over (Euler: V - E + F = 2 - 2g - b)', () => {
    const count = (seams: object) => {
      const bag = parseBag(bagFile(BOX_PANELS, { ...BOX_SEAMS, ...seams }));
      const draft = draftPanels(bag);
      return shapeOf(draft, surfaceOf(bag, draft))?.handles ?? null;
    };
    expect(count({})).toBe(0);
    expect(count({ E: ['front.right', 'right.right'], F: ['right.left', 'back.left'] })).toBe(1);
    expect(count({ E: { join: ['front.right', 'right.left'], direction: 'along' } })).toBe(null);
  });
});
