import type { OutlineEdge, Point2, Seam } from '../bag/types.ts';
import { pressedHinge, stripRigidity } from '../material/index.ts';
import { meshPanels } from '../mesh/index.ts';
import { EDGE_FREE, EDGE_SEAM } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';
import { draftPanels } from '../panels/index.ts';
import type { Model } from '../solver/types.ts';
import { GRAVITY } from '../units/index.ts';
import { cornerStrip } from './corner-theory.ts';
import { finished, type Setup, settleFor, type TestResult } from './result.ts';
import { sheetModel, swatchBag } from './sheet.ts';
import { lengthFor, STANDARD_WIDTH } from './strip.ts';

/** w L^3/B of the hanging piece where no length is given: it sags by an eighth of its length beside what the seam gives. */
export const CORNER_LOAD = 1;
/** Allowance of a seam, m, as in a bag file that states none, and its drafted fold, rad. */
const ALLOWANCE = 0.01;
const FOLD = Math.PI / 2;
/** Times as stiff as the cloth that the clamped piece is: between two boards it does not bend. */
const BOARDS = 1e5;

const rectangle = (width: number, height: number): OutlineEdge[] => {
  const corners: Point2[] = [
    [0, 0],
    [width, 0],
    [width, height],
    [0, height],
  ];
  return ['bottom', 'right', 'top', 'left'].map((name, i): OutlineEdge => ({ name, kind: 'line', from: corners[i], to: corners[(i + 1) % 4] }));
};

/**
 * Corner: two pieces sewn as the bag's seam is. One is clamped upright, flat up to the seam; the other hangs from it, and its tip's drop below the seam is read, over its length.
 * Seam up as a rule; Setup.seamDown: the clamped piece hangs, the seam is its lower end. Both together give the seam's stiffness and rest angle (readHinge).
 * The hinge is Setup.hinge, or that of how it is pressed (Setup.pressed, default creased, for a corner of 90 deg).
 * Theory: exact elastica with an end hinge (cornerStrip).
 */
export function corner(setup: Setup): TestResult {
  const { sheet, seamDown = false, pressed = 'creased' } = setup;
  const L = setup.length ?? lengthFor(sheet, CORNER_LOAD, setup.cut);
  const width = setup.width ?? STANDARD_WIDTH;
  if (!(L > 0 && width > 0 && setup.mesh > 0))
    throw new RangeError(`invalid corner strip ${L} x ${width} m at mesh ${setup.mesh} m; expected positive lengths`);
  const estimate = pressedHinge(pressed, { ...sheet, thickness: sheet.thickness ?? 0 }, { ...sheet, thickness: sheet.thickness ?? 0 }, ALLOWANCE);
  const { stiffness, restAngle } = setup.hinge ?? { stiffness: estimate.stiffness, restAngle: estimate.set * FOLD };
  const B = stripRigidity(sheet.bending, setup.cut ?? 0);
  const K = (sheet.arealMass * GRAVITY * libm.cube(L)) / B;
  const { model, start, tip } = sewn(setup, L, width, stiffness, restAngle, seamDown);
  const state = settleFor(setup, model, start);
  const [drop, reach] = [2, 0].map((k) => tip.reduce((sum, [v, share]) => sum + share * state.x[3 * v + k], 0) / L);
  const theory = cornerStrip(K, (stiffness * L) / B, restAngle, seamDown);
  return finished(
    {
      test: 'corner',
      reading: -drop,
      theory: theory.drop,
      unit: '1',
      quantity: `drop of the tip below the seam over the length, clamped with the seam ${seamDown ? 'down' : 'up'}`,
      formula: "B theta\" = w (L - s) cos(theta), theta'(L) = 0, B theta'(0) = k (fold - rest)",
      source: 'exact elastica with an end hinge, computed; the hinge of a pressed seam is an estimate (no measured one was found)',
      load: K,
      more: { length: L, rigidity: B, stiffness, rest: (restAngle * 180) / Math.PI, reach },
    },
    model,
    state,
  );
}

/** Both pieces meshed and assembled, the hanging one straight at the seam's rest angle; the tip's vertices with their shares of the width. */
function sewn(setup: Setup, L: number, width: number, stiffness: number, rest: number, seamDown: boolean) {
  const short = Math.min(L, 3 * setup.mesh);
  const run = (panel: string, edge: string) => [{ panel, edge, from: 0, to: 1 }];
  const seam: Seam = {
    name: 'seam',
    sides: [run('swatch', 'left'), run('held', 'right')],
    reversed: true,
    type: 'plain',
    allowance: 0,
    gather: null,
    hinge: null,
  };
  const bag = swatchBag(rectangle(L, width), [], [seam]);
  const both = { ...bag, panels: [bag.panels[0], { ...bag.panels[0], name: 'held', outline: rectangle(short, width) }] };
  const mesh = meshPanels(both, draftPanels(both), { edgeLength: setup.mesh, kind: setup.kind ?? 'irregular', seed: setup.seed ?? 1 });
  const cloth = sheetModel(mesh, setup.sheet, -(setup.cut ?? 0), []);
  const held = new Uint8Array(mesh.vertexCount);
  for (const v of mesh.panelVerts[1].verts) held[v] = 1;
  const triBend = cloth.triBend.map((d, i) => (mesh.triPanel[Math.floor(i / 4)] === 1 ? BOARDS * d : d));
  const hinged = [...mesh.edgeKind].filter((kind) => kind !== EDGE_FREE).map((kind) => kind === EDGE_SEAM);
  const model: Model = {
    ...cloth,
    held,
    triBend,
    hingeStiffness: Float64Array.from(hinged, (is) => (is ? stiffness : Number.POSITIVE_INFINITY)),
    hingeRest: Float64Array.from(hinged, (is) => (is ? rest : 0)),
  };
  // The clamped piece runs along its own line to the seam at the origin; the other leaves it turned by the rest angle, away from their common face.
  const line = seamDown ? -Math.PI / 2 : Math.PI / 2;
  const leaves = seamDown ? line + rest : line - rest;
  const start = new Float64Array(3 * mesh.vertexCount);
  const lay = (p: number, from: number, angle: number): void =>
    mesh.panelVerts[p].verts.forEach((v, i) => {
      const [u, across] = [mesh.panelVerts[p].flat[2 * i] - from, mesh.panelVerts[p].flat[2 * i + 1]];
      start.set([u * libm.cos(angle), seamDown ? -across : across, u * libm.sin(angle)], 3 * v);
    });
  lay(0, 0, leaves);
  lay(1, short, line);
  const end = mesh.outlines[0].right;
  const shares = [...end.at].map((a, i, all) => [end.verts[i], ((all[i + 1] ?? a) - (all[i - 1] ?? a)) / 2] as const);
  return { model, start, tip: shares };
}
