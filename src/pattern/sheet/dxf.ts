import { DxfWriter, LWPolylineFlags, Units } from '@tarikjabiri/dxf';
import type { Sheet, SheetLine } from './types.ts';

/** Layers of the file and the colour number each is shown in. */
const LAYERS = { cut: 7, stitch: 5, mark: 3, text: 8 } as const;

const layerOf = (ink: SheetLine['ink']): keyof typeof LAYERS => (ink === 'cut' || ink === 'stitch' ? ink : 'mark');

/** Letters that DXF text keeps as they are; control signs are dropped. */
const plain = (text: string): string => [...text].filter((c) => c >= ' ').join('');

/**
 * The sheet as DXF text: units millimetres, y up; layers cut, stitch, mark (folds, notches, grain among them) and text; one block for each piece
 * (PIECE-1, PIECE-2 ...), put where it lies on the sheet. Curves are polylines as close as the pattern's (0.01 mm). Same sheet, same bytes.
 */
export function sheetDxf(sheet: Sheet): string {
  const dxf = new DxfWriter();
  dxf.setUnits(Units.Millimeters);
  for (const [name, colour] of Object.entries(LAYERS)) dxf.addLayer(name, colour, 'Continuous');
  for (const { number, x, y } of sheet.laid) {
    const block = dxf.addBlock(`PIECE-${number}`);
    for (const line of sheet.lines)
      if (line.piece === number)
        block.addLWPolyline(
          line.points.map(([px, py]) => ({ point: { x: px - x, y: y - py } })),
          { flags: line.closed ? LWPolylineFlags.Closed : LWPolylineFlags.None, layerName: layerOf(line.ink) },
        );
    for (const t of sheet.texts) if (t.piece === number) block.addText({ x: t.x - x, y: y - t.y, z: 0 }, t.size * 0.71, plain(t.text), { layerName: 'text' });
    dxf.addInsert(`PIECE-${number}`, { x, y: -y, z: 0 }, { layerName: '0' });
  }
  return dxf.stringify();
}
