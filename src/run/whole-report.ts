import type { Bag } from '../bag/types.ts';
import { BagError } from '../bag/types.ts';
import { sha256 } from '../numerics/index.ts';
import type { FinishedPart } from '../pattern/types.ts';
import { chosenOption, htmlReport, type ReportPart, resultsJson } from '../report/index.ts';
import type { Result } from '../report/types.ts';
import { finishedParts } from './finished-parts.ts';

/** What makes a cutting list: `loadCutting`, as far as a report needs it. */
export interface ListMaker<L> {
  cutList(bag: Bag, option: string, cut?: Record<string, never>, stated?: { readonly finished: readonly FinishedPart[] }): L;
  cutListParts(list: L): readonly ReportPart[];
}

/**
 * The report of some results of one bag with everything in it: the question that the bag's note asks, the cutting list of the lightest option that does what is wanted (else
 * of the first), the bag file and the results themselves, so that the page shows it again without settling. A bag that cannot be cut as it is drawn is told why instead.
 * results: at least one; text: the bag file; bag: the same, parsed.
 */
export function wholeReport<L>(results: readonly Result[], text: string, bag: Bag, cutting: ListMaker<L>): string {
  return htmlReport(results, text, {
    question: bag.note,
    parts: listParts(bag, chosenOption(results), results[0]!.settings.edgeLength, cutting),
    results: resultsJson(results, { bagDigest: sha256(text) }),
  });
}

function listParts<L>(bag: Bag, option: string, edgeLength: number, cutting: ListMaker<L>): readonly ReportPart[] {
  try {
    return cutting.cutListParts(cutting.cutList(bag, option, {}, { finished: finishedParts(bag, option, edgeLength) }));
  } catch (error) {
    if (!(error instanceof BagError)) throw error;
    const items = error.faults.map(({ path, got, expected }) => `${path}: ${got}; expected ${expected}`);
    return [
      {
        title: `Cutting list: ${option}`,
        blocks: [
          { kind: 'text', text: 'It cannot be cut as it is drawn:' },
          { kind: 'list', items },
        ],
      },
    ];
  }
}
