import { type Bag, parseBag } from '../../src/bag/index.ts';
import { draftPanels } from '../../src/panels/draftPanels.ts';
import type { Draft } from '../../src/panels/types.ts';

const CLOTH = { cloth: ['canvas10'] };

/** A bag from panels and seams alone, one stack, read by the parser as a maker's file would be. Lengths mm. */
export function sewn(panels: Record<string, unknown>, seams: Record<string, unknown> = {}): { bag: Bag; draft: Draft } {
  const bag = parseBag(JSON.stringify({ slumpline: 1, name: 'test', wanted: 'soft', panels, seams, stacks: CLOTH, stances: { standing: { friction: 0.4 } } }));
  return { bag, draft: draftPanels(bag) };
}

const rectangle = (width: number, height: number) => ({ rectangle: { width: `${width} mm`, height: `${height} mm` } });

/** The five-panel box tote, W x H x D in mm. */
export function boxTote(W = 300, H = 240, D = 100): { bag: Bag; draft: Draft } {
  const side = { role: 'side', ...rectangle(D, H), open: ['top'] };
  return sewn(
    { front: { ...rectangle(W, H), open: ['top'] }, back: { ...rectangle(W, H), open: ['top'] }, left: side, right: side, base: rectangle(W, D) },
    {
      A: { join: ['front.bottom', 'base.bottom'] },
      B: { join: ['back.bottom', 'base.top'] },
      C: { join: ['left.bottom', 'base.right'] },
      D: { join: ['right.bottom', 'base.left'] },
      E: { join: ['front.right', 'right.left'] },
      F: { join: ['right.right', 'back.left'] },
      G: { join: ['back.right', 'left.left'] },
      H: { join: ['left.right', 'front.left'] },
    },
  );
}
