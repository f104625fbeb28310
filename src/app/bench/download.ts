import { handOver } from '../page/browser-storage.ts';

/** Hands text or a picture to the browser's download under a name of letters and hyphens. Returns the file's name. */
export function download(stem: string, ending: string, content: Blob): string {
  const plain = stem
    .trim()
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '');
  return handOver(content, `${plain || 'cloths'}.${ending}`);
}

export const textBlob = (content: string, type: string): Blob => new Blob([content], { type });

/** An SVG text as a picture of dots, `times` as many as its own px. Nothing in it may refer to another file. */
export async function pngOf(svg: string, times = 3): Promise<Blob> {
  const url = URL.createObjectURL(textBlob(svg, 'image/svg+xml'));
  try {
    const image = new Image();
    image.src = url;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = image.naturalWidth * times;
    canvas.height = image.naturalHeight * times;
    canvas.getContext('2d')!.drawImage(image, 0, 0, canvas.width, canvas.height);
    return await new Promise((resolve, reject) =>
      canvas.toBlob((blob) => (blob ? resolve(blob) : reject(new Error('the browser made no picture'))), 'image/png'),
    );
  } finally {
    URL.revokeObjectURL(url);
  }
}
