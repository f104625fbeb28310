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
test('cards', async () => {
  const { cardsPdf, notchCards, strapCards, CUT_DEFAULTS } = await import('../src/pattern/cutting.ts');
  for (const { name, bag } of templateBags().filter((b) => ['satchel', 'backpack'].includes(b.name)).concat(await cloth())) {
    const option = bag.options.at(-1)!.name;
    const cards = [...notchCards(bag, option), ...strapCards(bag, cutPattern(bag, option), CUT_DEFAULTS)];
    console.log(name, cards.length);
    for (const i of cards.keys()) await png(cardsPdf(cards, 'letter'), i + 1, 4, `/tmp/cutting/look/card-${name}-${i + 1}.png`);
  }
}, 100000);

async function cloth() {
  const { newBag, parseBag } = await import('../src/bag/index.ts');
  return [1, 2, 4].map((layers) => {
    const source = JSON.parse(newBag('flat-tote'));
    const straps = Object.fromEntries(Object.entries(source.straps).map(([n, s]: any) => [n, { ...s, from: { ...s.from, kind: layers === 2 ? 'rivet' : 'box with cross' }, layers, stack: 'hc' }]));
    return { name: `cloth${layers}`, bag: parseBag({ ...source, straps, stacks: { ...source.stacks, hc: ['canvas10'] } }) };
  });
}
test('sheets', async () => {
  const { writeFileSync } = await import('node:fs');
  const { loadImage } = await import('@napi-rs/canvas');
  const [, c] = await cloth();
  await png(sheetPdf(makeSheet(cutPattern(c!.bag))), 1, 2, '/tmp/cutting/look/cloth-sheet.png');
  const { newBag, parseBag } = await import('../src/bag/index.ts');
  const fitted = parseBag({
    ...JSON.parse(newBag('boxed-tote')),
    members: { piping: { along: ['front.top', 'back.top'], kind: 'paper cord', size: '5 mm', 'stops short': '8 mm' } },
    hardware: { feet: { kind: 'foot', panel: 'front', at: [['100 mm', '60 mm']] }, ring: { kind: 'ring', panel: 'front', at: [['60 mm', '200 mm']] } },
    closures: { snap: { kind: 'snap', from: { panel: 'front', at: ['180 mm', '280 mm'] }, to: { panel: 'back', at: ['180 mm', '280 mm'] } } },
  });
  await png(sheetPdf(makeSheet(cutPattern(fitted))), 1, 2, '/tmp/cutting/look/fitted-sheet.png');
  for (const n of ['satchel-nwboard', 'envelope-clutch-quilting', 'boxed-tote-canvas10']) {
    try {
      const img = await loadImage(`/tmp/cutting/look/${n}.svg`);
      const canvas = createCanvas(1400, Math.round((1400 * img.height) / img.width));
      canvas.getContext('2d').drawImage(img, 0, 0, canvas.width, canvas.height);
      writeFileSync(`/tmp/cutting/look/lay-${n}.png`, canvas.toBuffer('image/png'));
    } catch (e) {
      console.log(n, String(e));
    }
  }
}, 100000);
