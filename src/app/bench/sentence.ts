/** A line of the core, which writes plain letters for terminals, as a sentence on screen. */
export const sentence = (line: string): string =>
  `${line[0].toUpperCase()}${line.slice(1)}.`
    .replace(/\.\.$/, '.')
    .replace(/\+-/g, '±')
    .replace(/(\d) uN/g, '$1 µN');
