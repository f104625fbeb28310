import { loadCutting, parseBag, type Result, wholeReport } from '../../index.ts';

interface Asked {
  readonly results: readonly Result[];
  /** The bag file's text. */ readonly bag: string;
}

const made = async ({ results, bag }: Asked): Promise<string> => wholeReport(results, bag, parseBag(bag), await loadCutting());

/** Writes the report of some results, apart from the page: drawing its pictures and laying its pieces takes longer than a page may stand still. */
self.onmessage = ({ data }: MessageEvent<Asked>) => {
  made(data).then(
    (report) => self.postMessage(report),
    // Thrown outside the promise, so that the page hears of it.
    (error: unknown) =>
      setTimeout(() => {
        throw error;
      }),
  );
};
