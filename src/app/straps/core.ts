/** The door to the core of the screen "Where do the straps go?". Apart from the page's own, so that what only this screen needs is loaded with it. */
export type {
  AnchorSweep,
  AnchorTrack,
  Bag,
  EverydayThing,
  Fault,
  HangReport,
  HangsFrom,
  LoadSweep,
  Paper,
  Recommendation,
  SingleChange,
  Stance,
  Strap,
  SweepAnchor,
  SweepStep,
  Thing,
} from '../../index.ts';

// Places and figures.

export {
  anchorPlace,
  anchorRange,
  bagAt,
  baseSags,
  drawnDistances,
  missesOf,
  recommend,
  strapFamily,
  strapNames,
  usualDistances,
  usualHung,
  usualThing,
  withAnchorsAt,
} from '../../index.ts';

// What is written and drawn.

export { cornerSheets, formatForce, formatInches, formatMm, HANGING_CAUTIONS, hangSvg, perInch, readQuantity } from '../../index.ts';

// Sentences.

export { changesWords, hereWords, insideWords, lookWords, nearMissWords, sagWords, stitchReference, strapCard } from '../../index.ts';
