import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { History } from '../../src/app/page/history.ts';
import {
  type Bag,
  type BagDocument,
  BagError,
  type DrawEdit,
  draftPanels,
  edgeLength,
  edited,
  handlesOf,
  moved,
  parseBagDocument,
  printBag,
  startedBag,
  templates,
  troubles,
} from '../../src/index.ts';

type Open = { readonly document: BagDocument; readonly bag: Bag };

/** What a random number between 0 and 1 picks of a list. */
const of = <T>(list: readonly T[], at: number): T => list[Math.min(list.length - 1, Math.floor(at * list.length))];

/** One edit of whatever the bag has, by a kind and four random numbers; null: there is nothing of that kind to edit. */
function editOf({ bag, document }: Open, kind: string, [a, b, c, d]: readonly number[]): DrawEdit | null {
  const panel = of(bag.panels, a);
  const edge = of(panel.outline, b);
  const ref = (p: (typeof bag.panels)[number], at: number): string => `${p.name}.${of(p.outline, at).name}`;
  const seam = of(bag.seams, b)?.name.replace(/\+\d+$/, '');
  const place = [c * 0.2, d * 0.2] as const;
  switch (kind) {
    case 'panel':
      return {
        do: 'panel',
        panel: {
          name: of(['side', 'base', 'end', 'flap', 'front'], b),
          shape: of(
            [
              { kind: 'rectangle', width: '120 mm', height: `${Math.round(50 + 200 * c)} mm` },
              { kind: 'circle', diameter: '150 mm' },
              { kind: 'trapezoid', bottom: '200 mm', top: '120 mm', height: '100 mm' },
              { kind: 'half', width: '180 mm', height: '140 mm' },
            ] as const,
            d,
          ),
        },
      };
    case 'copy':
    case 'mirror':
      return { do: kind, panel: panel.name, name: 'copy' };
    case 'delete panel':
    case 'own shape':
      return { do: kind, panel: panel.name };
    case 'rename':
      return { do: 'rename', panel: panel.name, name: of(['face', 'wall two', 'end'], b) };
    case 'split':
      return { do: 'split', panel: panel.name, edge: edge.name, share: 0.2 + 0.6 * c };
    case 'bend':
      return { do: 'bend', panel: panel.name, edge: edge.name, into: of(['line', 'arc', 'curve'] as const, c) };
    case 'delete corner':
      return { do: 'delete corner', panel: panel.name, corner: String(1 + Math.floor(b * panel.outline.length)) };
    case 'round':
      return { do: 'round', panel: panel.name, corner: String(1 + Math.floor(b * panel.outline.length)), radius: of(['0', '10 mm', '25 mm'], c) };
    case 'open':
      return { do: 'open', panel: panel.name, edge: edge.name, open: c > 0.5 };
    case 'mark':
      return { do: 'mark', panel: panel.name, at: place, name: 'mark' };
    case 'notch':
      return { do: 'notch', panel: panel.name, edge: edge.name, share: c, name: 'notch' };
    case 'hole':
      return { do: 'hole', panel: panel.name, at: place, size: '8 mm', round: d > 0.5 };
    case 'line':
      return { do: 'line', panel: panel.name, at: place, upright: b > 0.5, fold: '0 mm', name: 'fold' };
    case 'sew':
      return { do: 'sew', sides: [[ref(panel, b)], [ref(of(bag.panels, c), d)]] };
    case 'gusset':
      return { do: 'gusset', edges: panel.outline.slice(0, 1 + Math.floor(b * 3)).map((e) => `${panel.name}.${e.name}`), width: '60 mm' };
    case 'pocket':
      return { do: 'pocket', panel: panel.name, height: '60 mm' };
    case 'flap':
      return { do: 'flap', panel: panel.name, edge: edge.name, flap: { depth: '70 mm', radius: of(['', '15 mm'], c) } };
    case 'tab':
      return { do: 'tab', panel: panel.name, edge: edge.name, tab: { width: '20 mm', length: '50 mm' } };
    case 'dart':
      return { do: 'dart', panel: panel.name, edge: edge.name, share: 0.2 + 0.6 * c, width: '10 mm', depth: '25 mm' };
    case 'finish':
      return {
        do: 'finish',
        panel: panel.name,
        edge: edge.name,
        choice: { finish: of(['raw', 'turned once', 'turned twice', 'faced', 'bound', null] as const, c), width: '12 mm', both: d > 0.5 },
      };
    case 'member': {
      const line = panel.lines[0];
      const along = d > 0.8 && line ? `${panel.name}.${line.name}` : `${panel.name}.${edge.name}${d < 0.2 ? '[10%..60%]' : ''}`;
      return { do: 'member', member: { kind: of(['cotton cord', 'spring wire', 'coil zip', 'metal frame'] as const, c), along, around: d > 0.4 && d < 0.6 } };
    }
    case 'member kind': {
      const member = of(bag.members ?? [], b);
      return member ? { do: 'member kind', name: member.name, kind: of(['paper cord', 'plastic boning'] as const, c) } : null;
    }
    case 'closure': {
      const other = of(bag.panels, c);
      const spot = (p: typeof panel, share: number) => ({ panel: p.name, edge: of(p.outline, share).name, share: 0.5, inset: '15 mm' });
      if (d < 0.4) return { do: 'closure', closure: { kind: 'magnet', from: spot(panel, b), to: spot(other, d) } };
      if (d < 0.7) return { do: 'closure', closure: { kind: 'coil zip', join: [[ref(panel, b)], [ref(other, d)]] } };
      return { do: 'closure', closure: { kind: 'drawstring', along: [ref(panel, b)], below: '10 mm', drawnTo: '40 mm' } };
    }
    case 'closed': {
      const closure = of(bag.closures ?? [], b);
      return closure ? { do: 'closed', closure: closure.name, stance: of(bag.stances, c).name, on: d > 0.5 } : null;
    }
    case 'hardware':
      return {
        do: 'hardware',
        hardware: { kind: of(['ring', 'rivet', 'buckle'] as const, c), at: [{ panel: panel.name, edge: edge.name, share: d, inset: '8 mm' }] },
      };
    case 'feet':
      return { do: 'feet', panel: panel.name, feet: { count: of([4, 5, 6] as const, c), inset: '15 mm' } };
    case 'take off': {
      const what = of(['members', 'closures', 'hardware'] as const, b);
      const found = of((bag[what] ?? []) as readonly { name: string }[], c);
      return found ? { do: 'take off', what, name: found.name } : null;
    }
    case 'delete inside': {
      const what = of(['mark', 'line', 'hole'] as const, b);
      const name = what === 'mark' ? of(panel.marks, c)?.name : what === 'line' ? of(panel.lines, c)?.name : panel.holes.length > 0 ? '1' : undefined;
      return name === undefined ? null : { do: 'delete inside', panel: panel.name, what, name };
    }
    case 'unpick':
      return seam === undefined ? null : { do: 'unpick', seam };
    case 'seam':
      return seam === undefined ? null : { do: 'seam', seam, choice: { type: of(['turned', 'lapped', null], c), allowance: of(['8 mm', null], d) } };
    case 'strap':
      return {
        do: 'strap',
        strap: {
          panel: panel.name,
          ends: [
            [0.03 + 0.03 * c, 0.1],
            [0.1 + 0.1 * d, 0.1],
          ],
          width: '20 mm',
          length: '400 mm',
          both: b > 0.5,
        },
      };
    case 'parameter': {
      const control = of(
        handlesOf(document, bag).flatMap((h) => h.controls),
        b,
      );
      return control ? { do: 'parameter', path: control.path, label: of(['Mouth dip', 'Width', 'Edge'], c) } : null;
    }
    default:
      return null;
  }
}

const KINDS = [
  'panel',
  'copy',
  'mirror',
  'delete panel',
  'own shape',
  'rename',
  'split',
  'bend',
  'delete corner',
  'round',
  'open',
  'mark',
  'notch',
  'hole',
  'line',
  'sew',
  'sew',
  'gusset',
  'pocket',
  'flap',
  'tab',
  'dart',
  'finish',
  'finish',
  'member',
  'member',
  'member kind',
  'closure',
  'closure',
  'closed',
  'hardware',
  'feet',
  'take off',
  'delete inside',
  'unpick',
  'seam',
  'strap',
  'parameter',
  'move',
  'move',
  'undo',
  'redo',
] as const;
const step = fc.record({ kind: fc.constantFrom(...KINDS), numbers: fc.array(fc.double({ min: 0, max: 0.999, noNaN: true }), { minLength: 4, maxLength: 4 }) });

describe('a thousand random edits, moves, undos and redos', () => {
  it('1000 steps from four bags: each is taken or refused with faults, what is taken reads back the same, and undo and redo give back the very text there was', () => {
    const counts = { taken: 0, refused: 0, nothing: 0 };
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 3 }), fc.array(step, { minLength: 50, maxLength: 50 }), (which, steps) => {
        const first = which === 0 ? startedBag('Mine', { name: 'front', shape: { kind: 'rectangle', width: '300 mm', height: '240 mm' } }) : null;
        let now: Open = first ?? parseBagDocument(templates()[[1, 6, 2][which - 1]].text);
        const history = new History();
        // The model: every text there was, and where in it one stands.
        let texts = [printBag(now.document)];
        let at = 0;
        for (const { kind, numbers } of steps) {
          if (kind === 'undo' || kind === 'redo') {
            const back = history[kind](printBag(now.document));
            const wanted = kind === 'undo' ? at - 1 : at + 1;
            expect(back?.text).toBe(texts[wanted]);
            if (!back) continue;
            at = wanted;
            now = parseBagDocument(back.text);
            continue;
          }
          let next: Open | null = null;
          try {
            if (kind === 'move') {
              const handle = of(handlesOf(now.document, now.bag), numbers[0]);
              next = handle ? moved(now.document, now.bag, { handle: handle.id, by: [(numbers[1] - 0.5) * 0.04, (numbers[2] - 0.5) * 0.04] }, 'mm') : null;
            } else {
              const edit = editOf(now, kind, numbers);
              next = edit && edited(now.document, now.bag, edit, 'mm');
            }
          } catch (error) {
            // A refusal names its place and what was expected; anything else is a bug.
            if (!(error instanceof BagError)) throw error;
            expect(error.faults.length).toBeGreaterThan(0);
            counts.refused++;
          }
          if (!next) {
            counts.nothing++;
            continue;
          }
          counts.taken++;
          const text = printBag(next.document);
          expect(parseBagDocument(text).bag).toEqual(next.bag);
          const draft = draftPanels(next.bag);
          expect(draft.panels.every((p) => p.area > 0 && p.edges.every((e) => Number.isFinite(e.length) && e.length > 0))).toBe(true);
          expect(() => troubles(next.document, next.bag, draft)).not.toThrow();
          for (const p of next.bag.panels) for (const e of p.outline) expect(edgeLength(e)).toBeGreaterThan(0);
          if (text === texts[at]) continue;
          history.keep(texts[at], kind, false);
          texts = [...texts.slice(0, at + 1), text];
          at++;
          now = next;
        }
      }),
      { numRuns: 20, seed: 20261130 },
    );
    console.log(`random edits: ${counts.taken} taken, ${counts.refused} refused, ${counts.nothing} with nothing to do`);
    expect(counts.taken).toBeGreaterThan(400);
  });
});
