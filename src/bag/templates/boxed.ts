/** Half of the pattern, right of the centre line: a square of D/2 is cut from the lower corner, so that W x H x D is the finished size. */
export const boxedHalf = [
  { at: [0, 0], edge: 'bottom' },
  { at: ['W/2', 0], edge: 'cut up' },
  { at: ['W/2', 'D/2'], edge: 'cut out' },
  { at: ['(W + D)/2', 'D/2'], edge: 'side' },
  { at: ['(W + D)/2', 'H + D/2'], edge: 'top' },
  { at: [0, 'H + D/2'] },
];

const fold = 'crease';
/** Creased into the box that the cut-outs make, along base line and uprights; crease 0 turns freely, which is the cautious side. */
export const boxedLines = {
  'base line': {
    points: [
      ['-W/2', 'D/2'],
      ['W/2', 'D/2'],
    ],
    fold,
  },
  'left upright': {
    points: [
      ['-W/2', 'D/2'],
      ['-W/2', 'H + D/2'],
    ],
    fold,
  },
  'right upright': {
    points: [
      ['W/2', 'D/2'],
      ['W/2', 'H + D/2'],
    ],
    fold,
  },
};

/** The seams of two such pieces, all alike: bottom, sides, and the four corners across the cut-outs. */
export const boxedSeams = (sewn: Readonly<Record<string, string>>): Readonly<Record<string, unknown>> => ({
  bottom: { join: ['front.bottom', 'back.bottom'], ...sewn },
  'right side': { join: ['front.side right', 'back.side left'], ...sewn },
  'left side': { join: ['front.side left', 'back.side right'], ...sewn },
  'front right corner': { join: ['front.cut up right', 'front.cut out right'], ...sewn },
  'front left corner': { join: ['front.cut up left', 'front.cut out left'], ...sewn },
  'back right corner': { join: ['back.cut up right', 'back.cut out right'], ...sewn },
  'back left corner': { join: ['back.cut up left', 'back.cut out left'], ...sewn },
});
