/** Words of the options as rows, loaded with them. */
export const words = {
  title: 'Compare the options',
  caption: (to: string | null): string =>
    to === null
      ? 'The options, one row each, with their values. Press a heading to sort by it.'
      : `The options, one row each, with differences to option ${to}. Press a heading to sort by it.`,
  option: 'Option',
  onMat: 'On the mat',
  onMatOf: (title: string): string => `On the mat: ${title}`,
  notOnMat: 'not on the mat',
  against: 'Compared with',
  values: 'values only',
  optionOf: (letter: string): string => `option ${letter}`,
  pull: 'Largest pull of a strap',
  band: 'Height kept: soft / typical / stiff bolt',
  same: 'same',
  points: (n: number): string => `${n} points`,
  of: (low: string, mid: string, high: string): string => `${low} / ${mid} / ${high}`,
  lightest: (wanted: string): string => `lightest that meets "${wanted}"`,
  lighter: (by: string, letter: string): string => `${by} lighter than ${letter}, the next that meets it.`,
  only: 'No other option meets it.',
  onlyYet: 'No other option has met it so far.',
  noneMeets: (wanted: string): string => `No option meets "${wanted}" as it stands.`,
} as const;
