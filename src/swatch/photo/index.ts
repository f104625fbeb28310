/** A strip read off a photograph. */
export { PLACES as PHOTO_PLACES } from './mark-faults.ts';
export { type PhotoDirection, type PhotoFile, parsePhotos, photoText } from './photo-file.ts';
export { readPhoto } from './read-photo.ts';
export { RULED as HANGING_OFF } from './shots.ts';
export type { PhotoMarks, PhotoRead, PhotoReading, Pixel } from './types.ts';
