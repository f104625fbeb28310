/** The pattern of an option as a file to print or to cut by. Loaded with the flat panels; what it is made with comes only when it is asked for. */
import { BagError, loadCutting, parseBag } from '../core.ts';

/** Forms of the pattern: pages to glue, one large sheet, a file for a cutter, the list of what is cut, cards of notches and straps. */
export type PatternForm = 'a4' | 'letter' | 'sheet' | 'svg' | 'dxf' | 'list' | 'cards-a4' | 'cards-letter';

/** A file made, or why there is none. */
export type PatternFile =
  | {
      readonly ok: true;
      readonly stem: string;
      readonly ending: string;
      readonly type: string;
      readonly data: string | Uint8Array;
      readonly pages: number;
      readonly notes: readonly string[];
    }
  | { readonly ok: false; readonly why: string };

/** Makes one file of the pattern. Parameters: text of the bag file; name of the option; form. */
export async function patternFile(text: string, option: string, form: PatternForm): Promise<PatternFile> {
  const cutting = await loadCutting();
  try {
    const bag = parseBag(text);
    const stem = `${bag.name} ${option}`;
    if (form === 'list') {
      const list = cutting.cutList(bag, option);
      return { ok: true, stem, ending: 'cutting-list.txt', type: 'text/plain;charset=utf-8', data: cutting.cutListText(list), pages: 1, notes: list.notes };
    }
    const pattern = cutting.cutPattern(bag, option);
    if (form === 'cards-a4' || form === 'cards-letter') {
      const cards = [...cutting.notchCards(bag, option), ...cutting.strapCards(bag, pattern, cutting.CUT_DEFAULTS)];
      if (cards.length === 0) return { ok: false, why: 'no seam with a notch and no strap' };
      const data = cutting.cardsPdf(cards, form === 'cards-a4' ? 'a4' : 'letter');
      return { ok: true, stem, ending: `${form}.pdf`, type: 'application/pdf', data, pages: cards.length, notes: cutting.cardNotes(cards) };
    }
    const sheet = cutting.makeSheet(pattern);
    const notes = [...pattern.notes, ...sheet.notes];
    const made = (ending: string, type: string, data: string | Uint8Array, pages = 1): PatternFile => ({ ok: true, stem, ending, type, data, pages, notes });
    if (form === 'svg') return made('pattern.svg', 'image/svg+xml', cutting.sheetSvg(sheet));
    if (form === 'dxf') return made('pattern.dxf', 'application/dxf', cutting.sheetDxf(sheet));
    if (form === 'sheet') return made('pattern.pdf', 'application/pdf', cutting.sheetPdf(sheet));
    return made(`pattern-${form}.pdf`, 'application/pdf', cutting.tiledPdf(sheet, form), cutting.tilesOf(sheet, form).tiles.length + 1);
  } catch (error) {
    if (error instanceof BagError) return { ok: false, why: error.faults.map((f) => `${f.path}: ${f.got}; expected ${f.expected}`).join('. ') };
    throw error;
  }
}
