/** `slumpline/material` as programs import it: the names of ../material.ts; what those functions take is looked at first (check.ts). */
import * as own from '../material.ts';
import { any, figure, guard, like, list, maybe, text, word } from './check.ts';
import { bag, band, four, laminate, record } from './shapes.ts';

export * from '../material.ts';

const bondLayer = () =>
  like('a layer', {
    bending: four('N*m'),
    inPlane: four('N/m'),
    thickness: figure('m', { over: 0 }),
    angle: figure('rad'),
    bond: figure('share', { least: 0, most: 1 }),
  });

export const bentStrip = /* @__PURE__ */ guard(own.bentStrip, () => ({
  standNumber: figure('', { least: 0 }),
  count: maybe(figure('', { least: 1, most: 10000, whole: true })),
}));
export const bondedRigidity = /* @__PURE__ */ guard(own.bondedRigidity, () => ({ layers: list(bondLayer(), 'a list of layers', 1) }));
export const compressionRatio = /* @__PURE__ */ guard(own.compressionRatio, () => ({
  bending: figure('N*m', { least: 0 }),
  inPlane: figure('N/m', { over: 0 }),
  thickness: figure('m', { over: 0 }),
}));
export const fromStrips = /* @__PURE__ */ guard(own.fromStrips, () => ({
  warp: figure('N*m or N/m', { least: 0 }),
  weft: figure('N*m or N/m', { least: 0 }),
  nu: figure('', { over: -1, below: 1 }),
  twist: figure('N*m or N/m', { least: 0 }),
}));
export const hangingStrip = /* @__PURE__ */ guard(own.hangingStrip, () => ({ load: figure('w L^3/B', { over: 0, most: 200 }) }));
export const hangingTilt = /* @__PURE__ */ guard(own.hangingTilt, () => ({ offset: figure('m'), depth: figure('m', { over: 0 }) }));
export const inwardPull = /* @__PURE__ */ guard(own.inwardPull, () => ({
  weight: figure('N', { least: 0 }),
  spacing: figure('m', { least: 0 }),
  drop: figure('m', { over: 0 }),
}));
export const isotropicStack = /* @__PURE__ */ guard(own.isotropicStack, () => ({
  layers: list(
    like('a layer', { modulus: figure('Pa', { over: 0 }), thickness: figure('m', { over: 0 }) }),
    'a list of layers, each { modulus, thickness }',
    1,
  ),
}));
export const laminateOf = /* @__PURE__ */ guard(own.laminateOf, () => ({
  bag: like('a bag, for its materials', { materials: list(any, 'a list of materials') }),
  stack: record("a stack of a bag's `stacks`"),
  band: band(),
  on: maybe(record('what it is laid on')),
}));
export const layUp = /* @__PURE__ */ guard(own.layUp, () => ({ bag: bag(), optionName: text('the name of an option'), band: band() }));
export const loadAtChordAngle = /* @__PURE__ */ guard(own.loadAtChordAngle, () => ({ angle: figure('rad', { over: 0, below: Math.PI / 2 }) }));
export const materialBands = /* @__PURE__ */ guard(own.materialBands, () => ({ id: word(() => own.presets().map((p) => p.id)) }));
export const middles = /* @__PURE__ */ guard(own.middles, () => ({
  layers: list(like('a layer', { thickness: figure('m', { least: 0 }) }), 'a list of layers, each { thickness }'),
}));
export const overhang = /* @__PURE__ */ guard(own.overhang, () => ({ laminate: laminate(), direction: figure('rad') }));
export const overhangUpright = /* @__PURE__ */ guard(own.overhangUpright, () => ({
  laminate: laminate(),
  panel: like('a panel, for its grain', { grain: figure('rad') }),
}));
export const perInch = /* @__PURE__ */ guard(own.perInch, () => ({ stitches: figure('per metre', { least: 0 }) }));
export const plateRigidity = /* @__PURE__ */ guard(own.plateRigidity, () => ({ d: four('N*m'), angle: figure('rad') }));
export const presetNotes = /* @__PURE__ */ guard(own.presetNotes, () => ({ id: text('the id of a material') }));
export const rigidityAlong = /* @__PURE__ */ guard(own.rigidityAlong, () => ({ laminate: laminate(), direction: figure('rad') }));
export const seamEfficiency = /* @__PURE__ */ guard(own.seamEfficiency, () => ({ seam: figure('N/m', { least: 0 }), material: figure('N/m', { over: 0 }) }));
export const seamStrength = /* @__PURE__ */ guard(own.seamStrength, () => ({
  type: word(() => ['301', '401']),
  stitchesPerMetre: figure('per metre', { least: 0 }),
  threadStrength: figure('N', { least: 0 }),
}));
export const sewnLayers = /* @__PURE__ */ guard(own.sewnLayers, () => ({
  bag: bag(),
  laminates: list(list(laminate(), 'laminates of a panel', 1), 'laminates as layUp() returns them'),
  band: band(),
}));
export const sidePressureRatio = /* @__PURE__ */ guard(own.sidePressureRatio, () => ({ repose: figure('rad', { least: 0, below: Math.PI / 2 }) }));
export const stitchReference = /* @__PURE__ */ guard(own.stitchReference, () => ({
  anchor: like('an anchor of a strap', { kind: text(), width: figure('m', { over: 0 }), height: figure('m', { over: 0 }) }),
  s: like('stitching as stitchingOf() returns it', { stitchesPerMetre: figure('per metre', { over: 0 }), thread: figure('N', { least: 0 }) }),
}));
export const stitchingOf = /* @__PURE__ */ guard(own.stitchingOf, () => ({ strap: record("a strap of a bag's `straps`") }));
export const strapAngle = /* @__PURE__ */ guard(own.strapAngle, () => ({ spacing: figure('m', { least: 0 }), drop: figure('m', { over: 0 }) }));
export const strapTension = /* @__PURE__ */ guard(own.strapTension, () => ({
  weight: figure('N', { least: 0 }),
  spacing: figure('m', { least: 0 }),
  drop: figure('m', { over: 0 }),
}));
export const stripRigidity = /* @__PURE__ */ guard(own.stripRigidity, () => ({ d: four('N*m'), angle: figure('rad') }));
export const threadUse = /* @__PURE__ */ guard(own.threadUse, () => ({
  type: word(() => ['301', '401', '101']),
  seamThickness: figure('m', { least: 0 }),
  stitchesPerMetre: figure('per metre', { least: 0 }),
}));
export const twistFromBias = /* @__PURE__ */ guard(own.twistFromBias, () => ({
  d11: figure('N*m', { over: 0 }),
  d22: figure('N*m', { over: 0 }),
  d12: figure('N*m', { least: 0 }),
  bias: figure('N*m', { over: 0 }),
}));
export const weakest = /* @__PURE__ */ guard(own.weakest, () => ({
  all: list(
    word(() => ['estimate', 'published', 'your swatch', 'stated']),
    'a list of what figures rest on',
  ),
}));
