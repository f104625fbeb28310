/** What rigidity a bag needs to be what is wanted of it. */
export { findNeed, type NeedOptions } from './find-need.ts';
