import { htmlReport, type Result } from '../../index.ts';

/** Writes the report of some results, apart from the page: drawing its pictures takes longer than a page may stand still. */
self.onmessage = ({ data }: MessageEvent<readonly Result[]>) => self.postMessage(htmlReport(data));
