/** The words of the bags to start from, loaded with their pictures. */
export const words = {
  title: 'Ten bags to start from',
  how: 'Each opens as a bag file of its own; your present bag comes back with Undo. Drawn as sewn, nothing settled yet, not to one scale.',
  close: 'Close',
  drawing: 'being drawn …',
  missing: 'no picture',
  size: (width: string, depth: string, height: string): string => `${width} wide, ${depth} deep, ${height} high as drawn`,
  /** The template's own question stands alone in its note after this word. */
  before: 'Question: ',
  none: 'No bags could be loaded. Close this and try again.',
} as const;
