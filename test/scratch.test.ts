import { mkdirSync, writeFileSync } from 'node:fs';
import { createCanvas } from '@napi-rs/canvas';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { test } from 'vitest';
import { cutList, cutPattern, laySvg, makeSheet, sheetPdf, tiledPdf } from '../src/pattern/cutting.ts';
import { templateBags } from './pattern/cut-bags.ts';
async function png(bytes: Uint8Array, page: number, px: number, path: string) {
  const doc = await getDocument({ data: bytes.slice(), verbosity: 0 }).promise;
  const p = await doc.getPage(page);
  const viewport = p.getViewport({ scale: (px * 25.4) / 72 });
  const canvas = createCanvas(Math.round(viewport.width), Math.round(viewport.height));
  await p.render({ canvas: canvas as never, canvasContext: canvas.getContext('2d') as never, viewport }).promise;
  writeFileSync(path, canvas.toBuffer('image/png'));
  await doc.loadingTask.destroy();
}
test('x', async () => {
  mkdirSync('/tmp/cutting/look', { recursive: true });
  for (const { name, bag } of templateBags().filter((b) => ['satchel', 'boxed-tote', 'envelope-clutch', 'drawstring-pouch'].includes(b.name))) {
    const option = bag.options.at(-1)!.name;
    const sheet = makeSheet(cutPattern(bag, option));
    await png(sheetPdf(sheet), 1, 2, `/tmp/cutting/look/${name}-sheet.png`);
    const list = cutList(bag, option);
    for (const m of list.materials) if (m.lay) writeFileSync(`/tmp/cutting/look/${name}-${m.material}.svg`, laySvg(m, `${list.bag}: ${list.option}`));
    if (name === 'satchel') {
      await png(tiledPdf(sheet, 'a4'), 1, 4, `/tmp/cutting/look/${name}-map.png`);
      await png(tiledPdf(sheet, 'a4'), 3, 4, `/tmp/cutting/look/${name}-tile.png`);
    }
  }
}, 200000);
