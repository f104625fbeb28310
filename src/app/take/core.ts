/** What taking things away uses of the core beside the page's own: loaded with it. */
export { crc32, formatInches, formatMm, pngOfSize, readQuantity } from '../../index.ts';
