/** `slumpline/units` as programs import it: the names of ../units.ts; what those functions take is looked at first (check.ts). */

import type { QuantityKind } from '../units.ts';
import * as own from '../units.ts';
import { figure, guard, maybe, text, word } from './check.ts';

export * from '../units.ts';

const KINDS: Readonly<Record<QuantityKind, true>> = {
  length: true,
  thickness: true,
  angle: true,
  arealMass: true,
  mass: true,
  bending: true,
  bendingMoment: true,
  inPlane: true,
  hinge: true,
  force: true,
  rodBending: true,
  lineMass: true,
  number: true,
};
const quantity = () => word(() => Object.keys(KINDS));
const digits = () => maybe(figure('', { least: 0, most: 12, whole: true }));

export const bendingLength = /* @__PURE__ */ guard(own.bendingLength, () => ({
  flexuralRigidity: figure('N*m', { least: 0 }),
  arealMass: figure('kg/m2', { over: 0 }),
}));
export const bendingModulus = /* @__PURE__ */ guard(own.bendingModulus, () => ({
  flexuralRigidity: figure('N*m', { least: 0 }),
  thickness: figure('m', { over: 0 }),
}));
export const decimalComma = /* @__PURE__ */ guard(own.decimalComma, () => ({ text: text() }));
export const duckArealMass = /* @__PURE__ */ guard(own.duckArealMass, () => ({ number: text('a duck number as text, such as "10"') }));
export const duckOunces = /* @__PURE__ */ guard(own.duckOunces, () => ({ number: text('a duck number as text, such as "10"') }));
export const formatAngle = /* @__PURE__ */ guard(own.formatAngle, () => ({ radians: figure('rad'), digits: digits() }));
export const formatArealMass = /* @__PURE__ */ guard(own.formatArealMass, () => ({ arealMass: figure('kg/m2') }));
export const formatForce = /* @__PURE__ */ guard(own.formatForce, () => ({ newtons: figure('N') }));
export const formatGsm = /* @__PURE__ */ guard(own.formatGsm, () => ({ arealMass: figure('kg/m2'), digits: digits() }));
export const formatInches = /* @__PURE__ */ guard(own.formatInches, () => ({
  metres: figure('m'),
  parts: maybe(figure('a power of two', { least: 1, most: 1024, whole: true })),
}));
export const formatLeather = /* @__PURE__ */ guard(own.formatLeather, () => ({ thickness: figure('m', { least: 0 }) }));
export const formatLength = /* @__PURE__ */ guard(own.formatLength, () => ({ metres: figure('m') }));
export const formatMass = /* @__PURE__ */ guard(own.formatMass, () => ({ kilograms: figure('kg') }));
export const formatMm = /* @__PURE__ */ guard(own.formatMm, () => ({ metres: figure('m'), digits: digits() }));
export const formatOzYd2 = /* @__PURE__ */ guard(own.formatOzYd2, () => ({ arealMass: figure('kg/m2'), digits: digits() }));
export const formatRigidity = /* @__PURE__ */ guard(own.formatRigidity, () => ({ value: figure('N*m') }));
export const formatStiffness = /* @__PURE__ */ guard(own.formatStiffness, () => ({ value: figure('N/m') }));
export const overallRigidity = /* @__PURE__ */ guard(own.overallRigidity, () => ({ warp: figure('N*m', { least: 0 }), weft: figure('N*m', { least: 0 }) }));
export const overhangAtFixedAngle = /* @__PURE__ */ guard(own.overhangAtFixedAngle, () => ({
  flexuralRigidity: figure('N*m', { least: 0 }),
  arealMass: figure('kg/m2', { over: 0 }),
}));
export const peirceRatio = /* @__PURE__ */ guard(own.peirceRatio, () => ({ theta: figure('rad', { over: 0, below: Math.PI / 2 }) }));
export const quantityExample = /* @__PURE__ */ guard(own.quantityExample, () => ({ kind: quantity() }));
export const readRange = /* @__PURE__ */ guard(own.readRange, () => ({ text: text(), kind: quantity() }));
export const residualCurvature = /* @__PURE__ */ guard(own.residualCurvature, () => ({
  hysteresis: figure('N*m/m', { least: 0 }),
  flexuralRigidity: figure('N*m', { over: 0 }),
}));
export const rigidityFromBendingLength = /* @__PURE__ */ guard(own.rigidityFromBendingLength, () => ({
  arealMass: figure('kg/m2', { least: 0 }),
  bendingLength: figure('m', { least: 0 }),
}));
export const rigidityFromModulus = /* @__PURE__ */ guard(own.rigidityFromModulus, () => ({
  modulus: figure('Pa', { least: 0 }),
  thickness: figure('m', { least: 0 }),
}));
export const rigidityFromOverhang = /* @__PURE__ */ guard(own.rigidityFromOverhang, () => ({
  overhang: figure('m', { least: 0 }),
  arealMass: figure('kg/m2', { least: 0 }),
}));
export const rigidityFromTipDrop = /* @__PURE__ */ guard(own.rigidityFromTipDrop, () => ({
  arealMass: figure('kg/m2', { least: 0 }),
  overhang: figure('m', { over: 0 }),
  drop: figure('m', { over: 0 }),
}));
export const shearFromBiasExtension = /* @__PURE__ */ guard(own.shearFromBiasExtension, () => ({ percent: figure('%', { over: 0 }) }));
export const unitSize = /* @__PURE__ */ guard(own.unitSize, () => ({ kind: quantity(), word: text('a unit') }));
export const unitWords = /* @__PURE__ */ guard(own.unitWords, () => ({ kind: quantity() }));
export const readQuantity = /* @__PURE__ */ guard(own.readQuantity, () => ({ text: text(), kind: quantity() }));
