/** Flat panels to scale, and the edits that are made on them. */
export { type Move, moved, type SideLengths, sideLengths } from './edit.ts';
export { type FlatLayout, type FlatOptions, flatLayout, flatSvg } from './flat.ts';
export { type Handle, handlesOf } from './handles.ts';
