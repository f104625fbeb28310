/** Pictures are kept no larger than this, pixels along their longer side: finer than a hand marks, and it fits into a phone's memory. */
const LONGEST = 3000;
/** A file larger than this is no photograph of a strip, bytes. */
const LARGEST = 80e6;

export type Decoded =
  | { readonly ok: true; readonly canvas: HTMLCanvasElement; readonly from: readonly [number, number] }
  | { readonly ok: false; readonly why: 'large' | 'none' };

/** A picture out of a file, turned as its camera held it (EXIF), scaled down where it is huge; or why there is none. The file never leaves the machine. */
export async function decoded(file: Blob): Promise<Decoded> {
  if (file.size > LARGEST) return { ok: false, why: 'large' };
  let bitmap: ImageBitmap;
  try {
    bitmap = await createImageBitmap(file, { imageOrientation: 'from-image' });
  } catch {
    return { ok: false, why: 'none' };
  }
  const scale = Math.min(1, LONGEST / Math.max(bitmap.width, bitmap.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(bitmap.width * scale));
  canvas.height = Math.max(1, Math.round(bitmap.height * scale));
  const context = canvas.getContext('2d', { willReadFrequently: true });
  const from = [bitmap.width, bitmap.height] as const;
  if (!context) return { ok: false, why: 'large' };
  context.imageSmoothingQuality = 'high';
  context.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  return { ok: true, canvas, from };
}
