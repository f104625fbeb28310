/** Mesh, laminates, ground, straps and loads -> the solver's model: the one meeting place. */
export { alongWarp, assemble, assembling, panelMasses } from './assemble.ts';
export { checkBulk } from './check-bulk.ts';
export { checkMembers } from './check-members.ts';
export { checkThread } from './check-thread.ts';
export {
  closureLines,
  closureMass,
  closuresAtRest,
  type LaidClosure,
  laidClosures,
  leadsOf,
  spotAt,
  type Tied,
  withClosures,
} from './closures/index.ts';
export { fillBag } from './contents.ts';
export { pullOf, slidesUnder } from './ground.ts';
export { hungStraps, strapLines } from './hanging.ts';
export { eachHardware } from './hardware.ts';
export { fillDepth } from './load.ts';
export { memberLines } from './member-lines.ts';
export { eachMember, memberLengths } from './members.ts';
export { type Rig, rigStraps } from './rig.ts';
export { seamsOf } from './seam-bulk.ts';
export { withStraps } from './strap-weight.ts';
export { thickestSeam } from './thickest-seam.ts';
