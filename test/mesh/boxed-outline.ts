/** A sheet W x H with a square of c cut from each lower corner; `at` writes a corner's place. */
export const boxedOutline = (W: number, H: number, c: number, at: (x: number, y: number) => string[]) => [
  { at: at(c, 0), edge: 'bottom' },
  { at: at(W - c, 0), edge: 'cut right up' },
  { at: at(W - c, c), edge: 'cut right out' },
  { at: at(W, c), edge: 'right' },
  { at: at(W, H), edge: 'top' },
  { at: at(0, H), edge: 'left' },
  { at: at(0, c), edge: 'cut left in' },
  { at: at(c, c), edge: 'cut left down' },
];
