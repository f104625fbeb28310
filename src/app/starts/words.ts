/** The words of the bags to start from, loaded with their pictures. */
export const words = {
  title: 'Bags to start from',
  how: 'Each opens as its own bag file. Undo brings your present bag back. The pictures show the bags as sewn, before they settle, and not to one scale.',
  close: 'Close',
  drawing: 'being drawn …',
  missing: 'no picture',
  size: (width: string, depth: string, height: string): string => `${width} wide, ${depth} deep, ${height} high as drawn`,
  /** The template's own question stands alone in its note after this word. */
  before: 'Question: ',
  none: 'The bags did not load. Close this and try again.',
} as const;
