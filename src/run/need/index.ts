/** What rigidity a bag needs to be what is wanted of it. */
export { findNeed, type NeedOptions, type NeedProgress } from './find-need.ts';
export { type NeedRun, previewNeed } from './preview-need.ts';
