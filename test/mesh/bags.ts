import { type Bag, parseBag } from '../../src/bag/index.ts';
import { draftPanels } from '../../src/panels/draft-panels.ts';
import type { Draft } from '../../src/panels/types.ts';
import { boxedOutline } from './boxed-outline.ts';

const CLOTH = { cloth: ['canvas10'] };

/** A bag from panels and seams alone, one stack, read by the parser as a maker's file would be. Lengths mm. */
export function sewn(panels: Record<string, unknown>, seams: Record<string, unknown> = {}): { bag: Bag; draft: Draft } {
  const bag = parseBag(JSON.stringify({ slumpline: 1, name: 'test', wanted: 'soft', panels, seams, stacks: CLOTH, stances: { standing: { friction: 0.4 } } }));
  return { bag, draft: draftPanels(bag) };
}

const rectangle = (width: number, height: number) => ({ rectangle: { width: `${width} mm`, height: `${height} mm` } });

/** Seams of a box but that of its front with its base. */
const BOX_SEAMS = {
  B: { join: ['back.bottom', 'base.top'] },
  C: { join: ['left.bottom', 'base.right'] },
  D: { join: ['right.bottom', 'base.left'] },
  E: { join: ['front.right', 'right.left'] },
  F: { join: ['right.right', 'back.left'] },
  G: { join: ['back.right', 'left.left'] },
  H: { join: ['left.right', 'front.left'] },
};

/** The five-panel box tote, W x H x D in mm. */
export function boxTote(W = 300, H = 240, D = 100): { bag: Bag; draft: Draft } {
  const side = { role: 'side', ...rectangle(D, H), open: ['top'] };
  return sewn(
    { front: { ...rectangle(W, H), open: ['top'] }, back: { ...rectangle(W, H), open: ['top'] }, left: side, right: side, base: rectangle(W, D) },
    {
      A: { join: ['front.bottom', 'base.bottom'] },
      ...BOX_SEAMS,
    },
  );
}

/** Two sheets sewn left, bottom and right. */
export function flatTote(W = 300, H = 350): { bag: Bag; draft: Draft } {
  return sewn(
    { front: { ...rectangle(W, H), open: ['top'] }, back: { ...rectangle(W, H), open: ['top'] } },
    {
      A: {
        join: [
          ['front.left', 'front.bottom', 'front.right'],
          ['back.left', 'back.bottom', 'back.right'],
        ],
      },
    },
  );
}

/** Two sheets with a square of D/2 cut from each lower corner. */
export function boxedCorners(W = 380, H = 400, D = 100): { bag: Bag; draft: Draft } {
  const outline = boxedOutline(W, H, D / 2, (x, y) => [`${x} mm`, `${y} mm`]);
  return sewn(
    { front: { outline, open: ['top'] }, back: { outline, open: ['top'] } },
    {
      sideA: { join: ['front.left', 'back.right'] },
      sideB: { join: ['front.right', 'back.left'] },
      bottom: { join: ['front.bottom', 'back.bottom'] },
      boxA: { join: ['front.cut left in', 'front.cut left down'] },
      boxB: { join: ['front.cut right up', 'front.cut right out'] },
      boxC: { join: ['back.cut left in', 'back.cut left down'] },
      boxD: { join: ['back.cut right up', 'back.cut right out'] },
    },
  );
}

/** Front and back with two rounded lower corners, one gusset strip round left, bottom and right, a flap on the back. */
export function satchel(W = 330, H = 254, D = 100, R = 50, flap = true): { bag: Bag; draft: Draft } {
  const round = R > 0 ? ['left', 'left-bottom', 'bottom', 'bottom-right', 'right'] : ['left', 'bottom', 'right'];
  const shape = { width: `${W} mm`, height: `${H} mm`, radius: [`${R} mm`, `${R} mm`, 0, 0] };
  const body = { rectangle: shape, open: ['top'], chains: { around: round } };
  const length = W + 2 * H - (4 - Math.PI) * R;
  const panels: Record<string, unknown> = {
    front: body,
    back: flap ? { ...body, open: [] } : body,
    gusset: { ...rectangle(length, D), open: ['left', 'right'] },
  };
  const seams: Record<string, unknown> = { A: { join: ['front.around', 'gusset.bottom'] }, B: { join: ['back.around', 'gusset.top'] } };
  if (flap) {
    panels.flap = { rectangle: { width: `${W} mm`, height: `${0.7 * H} mm`, radius: [0, 0, `${R} mm`, `${R} mm`] }, open: ['top', 'left', 'right'] };
    seams.C = { join: ['back.top', 'flap.bottom'], type: 'fold' };
  }
  return sewn(panels, seams);
}

/** Tube on a round base. */
export function bucket(diameter = 180, H = 250): { bag: Bag; draft: Draft } {
  return sewn(
    { body: { ...rectangle(Math.PI * diameter, H), open: ['top'] }, base: { circle: { diameter: `${diameter} mm` } } },
    { A: { join: ['body.left', 'body.right'] }, B: { join: ['base.rim', 'body.bottom'] } },
  );
}

/** Two pointed crescents sewn along the lower curve, open along the upper. */
export function crescent(W = 380, H = 300, dip = 120): { bag: Bag; draft: Draft } {
  const outline = [
    { at: [0, `${H} mm`], edge: 'low', through: [`${W / 2} mm`, 0] },
    { at: [`${W} mm`, `${H} mm`], edge: 'mouth', through: [`${W / 2} mm`, `${H - dip} mm`] },
  ];
  return sewn({ front: { outline, open: ['mouth'] }, back: { outline, open: ['mouth'] } }, { A: { join: ['front.low', 'back.low'] } });
}

/** Tube lying on its side with round ends; a zip along the top is sewn shut over a fifth of its length at each end. */
export function barrel(diameter = 250, L = 500): { bag: Bag; draft: Draft } {
  return sewn(
    {
      body: { ...rectangle(L, Math.PI * diameter), open: ['top', 'bottom'] },
      'left end': { circle: { diameter: `${diameter} mm` } },
      'right end': { circle: { diameter: `${diameter} mm` } },
    },
    {
      L: { join: ['left end.rim', 'body.left'] },
      R: { join: ['right end.rim', 'body.right'] },
      Z1: { join: ['body.bottom[0%..20%]', 'body.top[80%..100%]'] },
      Z2: { join: ['body.bottom[80%..100%]', 'body.top[0%..20%]'] },
    },
  );
}

/** Front and back with four rounded corners, gusset strip closed to a ring, zip open along the middle of its top. */
export function backpack(W = 270, H = 400, D = 115, R = 60): { bag: Bag; draft: Draft } {
  const shape = { rectangle: { width: `${W} mm`, height: `${H} mm`, radius: `${R} mm` } };
  const around = ['left', 'left-bottom', 'bottom', 'bottom-right', 'right'];
  const top = ['right-top', 'top', 'top-left'];
  const low = W - 2 * R + 2 * (H - 2 * R) + Math.PI * R;
  const high = W - 2 * R + Math.PI * R;
  return sewn(
    {
      front: { ...shape, chains: { around, over: top } },
      back: { ...shape, chains: { around, over: top } },
      gusset: rectangle(low, D),
      'zip front': { role: 'gusset', ...rectangle(high, D / 2), open: ['top'] },
      'zip back': { role: 'gusset', ...rectangle(high, D / 2), open: ['top'] },
    },
    {
      A: { join: ['front.around', 'gusset.bottom'] },
      B: { join: ['back.around', 'gusset.top'] },
      C: { join: ['front.over', 'zip front.bottom'] },
      D: { join: ['back.over', 'zip back.bottom'] },
      E: { join: ['gusset.right', ['zip front.left', 'zip back.right']] },
      F: { join: ['gusset.left', ['zip front.right', 'zip back.left']] },
    },
  );
}

/** Straight band gathered onto a skirt: band tube on a longer skirt tube on a rounded base. */
export function gatheredTote(W = 380, D = 100, band = 90, skirt = 260, ratio = 1.6): { bag: Bag; draft: Draft } {
  const girth = 2 * W + 2 * D;
  return sewn(
    { band: { role: 'body', ...rectangle(girth, band), open: ['top'] }, skirt: { role: 'body', ...rectangle(girth * ratio, skirt) }, base: rectangle(W, D) },
    {
      A: { join: ['band.left', 'band.right'] },
      B: { join: ['skirt.left', 'skirt.right'] },
      C: { join: ['band.bottom', 'skirt.top'], gather: ratio },
      D: { join: [['base.bottom', 'base.right', 'base.top', 'base.left'], 'skirt.bottom'], gather: ratio },
    },
  );
}

/** A sheet folded into front, bottom and back is drawn as one: a rectangle with a dart in each lower corner and a hole for a ring. */
export function dartedPouch(): { bag: Bag; draft: Draft } {
  const mm = (x: number, y: number) => [`${x} mm`, `${y} mm`];
  const outline = [
    { at: mm(0, 0), edge: 'dart a1' },
    { at: mm(25, 50), edge: 'dart a2' },
    { at: mm(50, 0), edge: 'bottom' },
    { at: mm(150, 0), edge: 'dart b1' },
    { at: mm(175, 50), edge: 'dart b2' },
    { at: mm(200, 0), edge: 'right' },
    { at: mm(210, 200), edge: 'top' },
    { at: mm(-10, 200), edge: 'left' },
  ];
  const panel = { outline, open: ['top'], holes: [{ circle: { diameter: '20 mm', centre: mm(100, 150) } }] };
  return sewn(
    { front: panel, back: panel },
    {
      a: { join: ['front.dart a1', 'front.dart a2'] },
      b: { join: ['front.dart b1', 'front.dart b2'] },
      c: { join: ['back.dart a1', 'back.dart a2'] },
      d: { join: ['back.dart b1', 'back.dart b2'] },
      s: { join: ['front.left', 'back.right'] },
      t: { join: ['front.right', 'back.left'] },
      u: { join: ['front.bottom', 'back.bottom'] },
    },
  );
}

/** The box tote with two handles, a patch pocket held in the side seams and the bottom, and a divider between the sides. */
export function furnishedTote(): { bag: Bag; draft: Draft } {
  const side = { role: 'side', ...rectangle(100, 240), open: ['top'] };
  const handle = { role: 'strap', ...rectangle(420, 30), open: ['top', 'bottom'] };
  return sewn(
    {
      front: { ...rectangle(300, 240), open: ['top'] },
      back: { ...rectangle(300, 240), open: ['top'] },
      left: side,
      right: side,
      base: rectangle(300, 100),
      'front handle': handle,
      'back handle': handle,
      pocket: { ...rectangle(300, 140), open: ['top'] },
    },
    {
      A: { join: ['front.bottom', 'base.bottom', 'pocket.bottom'] },
      ...BOX_SEAMS,
      P: { join: ['pocket.right', 'front.right[0%..58.3333%]'] },
      Q: { join: ['pocket.left', 'front.left[41.6667%..100%]'] },
      S: { join: ['front handle.left', 'front.top[20%..30%]'] },
      T: { join: ['front handle.right', 'front.top[70%..80%]'] },
      U: { join: ['back handle.left', 'back.top[20%..30%]'] },
      V: { join: ['back handle.right', 'back.top[70%..80%]'] },
    },
  );
}

/** The satchel's body with a shoulder strap from gusset end to gusset end. */
export function shoulderBag(): { bag: Bag; draft: Draft } {
  const round = ['left', 'left-bottom', 'bottom', 'bottom-right', 'right'];
  const body = { rectangle: { width: '280 mm', height: '220 mm', radius: ['60 mm', '60 mm', 0, 0] }, open: ['top'], chains: { around: round } };
  const length = 280 + 440 - (4 - Math.PI) * 60;
  return sewn(
    { front: body, back: body, gusset: rectangle(length, 60), strap: { ...rectangle(900, 40), open: ['top', 'bottom'] } },
    {
      A: { join: ['front.around', 'gusset.bottom'] },
      B: { join: ['back.around', 'gusset.top'] },
      S: { join: ['strap.left', 'gusset.left[16.6667%..83.3333%]'] },
      T: { join: ['strap.right', 'gusset.right[16.6667%..83.3333%]'] },
    },
  );
}

/** A square folded corner to corner: two pairs of neighbouring edges sewn to each other, so that two corners become cones. */
export function folded(): { bag: Bag; draft: Draft } {
  return sewn(
    { cloth: { role: 'body', ...rectangle(300, 300), open: [] } },
    { a: { join: ['cloth.bottom', 'cloth.right'] }, b: { join: ['cloth.top', 'cloth.left'] } },
  );
}
