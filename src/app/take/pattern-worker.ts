import { type Bag, BagError, loadCutting } from '../../index.ts';

/** Ways a pattern is written: pages to glue on either paper, one sheet, or a drawing for a cutting machine. */
export type PatternKind = 'a4' | 'letter' | 'sheet' | 'svg' | 'dxf';
export interface PatternAsk {
  readonly bag: Bag;
  readonly option: string;
  readonly kind: PatternKind;
}
export type PatternSay = { readonly file: Uint8Array<ArrayBuffer> | string } | { readonly why: string };

/** Writes the pattern of one option, apart from the page; what it needs for that is loaded with it. */
async function written({ bag, option, kind }: PatternAsk): Promise<PatternSay> {
  try {
    const cutting = await loadCutting();
    const sheet = cutting.makeSheet(cutting.cutPattern(bag, option));
    if (kind === 'svg') return { file: cutting.sheetSvg(sheet) };
    if (kind === 'dxf') return { file: cutting.sheetDxf(sheet) };
    return { file: Uint8Array.from(kind === 'sheet' ? cutting.sheetPdf(sheet) : cutting.tiledPdf(sheet, kind)) };
  } catch (error) {
    if (!(error instanceof BagError)) throw error;
    return { why: error.faults.map((f) => `${f.path}: ${f.got}; expected ${f.expected}`).join('; ') };
  }
}

self.onmessage = ({ data }: MessageEvent<PatternAsk>) => {
  written(data).then(
    (say) => self.postMessage(say),
    (error) => {
      // Told as a crash is: the page hears of both in one way.
      setTimeout(() => {
        throw error;
      });
    },
  );
};
