import { settledMaps } from '../../index.ts';
import type { Ask, Say } from './protocol.ts';

self.onmessage = ({ data: { id, settled } }: MessageEvent<Ask>): void => {
  const tell = (say: Say): void => self.postMessage(say);
  try {
    tell({ id, maps: settledMaps(settled) });
  } catch (error) {
    tell({ id, failed: error instanceof Error ? error.message : String(error) });
  }
};
