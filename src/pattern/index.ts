/** Flat panels to scale, and the edits that are made on them. */

export { type Around, aroundFrom } from './around.ts';
export { type Move, moved, type SideLengths, sideLengths } from './edit.ts';
export { type Edited, edited, startedBag } from './edit-draw.ts';
export { type FinishChoice, freeStretches, partnerOf } from './edit-finishes.ts';
export type { DrawEdit } from './edit-kinds.ts';
export { type Mend, type Trouble, troubles } from './edit-mend.ts';
export type { NewPanel, NewShape } from './edit-panels.ts';
export type { NewFlap, NewTab } from './edit-parts.ts';
export type { Spot } from './edit-spots.ts';
export { closureLine, type NewClosure, type NewFeet, type NewHardware, type NewMember } from './edit-trims.ts';
export { type FlatLayout, type FlatOptions, flatLayout, flatSvg } from './flat.ts';
export { type Handle, handlesOf } from './handles.ts';
