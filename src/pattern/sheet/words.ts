/** What is written on a piece. */
import type { Pattern, Piece } from '../pieces/types.ts';
import type { Block } from './labels.ts';

const KINDS: Readonly<Record<Piece['kind'], string>> = {
  shell: 'shell',
  lining: 'lining',
  interfacing: 'interfacing',
  foam: 'foam or fleece',
  board: 'board',
  facing: 'facing',
  strap: 'strap',
};

/** "cut 1", "cut 2", "cut 2, one mirrored", "cut 4, 2 mirrored". */
export const cutWords = ({ count, mirrored }: Pick<Piece, 'count' | 'mirrored'>): string =>
  mirrored === 0 ? `cut ${count}` : `cut ${count}, ${mirrored === 1 ? 'one' : mirrored} mirrored`;

/** Title of a piece at three sizes; the smallest leaves the notes out. */
export function titleBlocks(piece: Piece, number: number, { pieces }: Pattern): Block[] {
  const at = (big: number, small: number, notes: boolean): Block => ({
    lines: [
      { text: piece.name, size: big },
      { text: `${KINDS[piece.kind]}: ${piece.materialName}`, size: small },
      { text: `${cutWords(piece)} · piece ${number} of ${pieces.length}`, size: small },
      ...(notes ? piece.notes.map((text) => ({ text, size: small * 0.85 })) : []),
    ],
  });
  return [at(6, 3.8, true), at(4.5, 3, true), at(3.2, 2.4, true), at(3, 2.2, false)];
}
