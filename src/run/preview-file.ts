import { parseBag } from '../bag/index.ts';
import type { Bag } from '../bag/types.ts';
import type { Result } from '../report/types.ts';
import { type PreviewOptions, previewBag } from './preview.ts';

/**
 * The whole way: bag file (text, object or parsed Bag) -> verdict with its reasons; see previewBag. Apart from it, so that the page's
 * worker, which is handed parsed bags, need not carry the reader of files. Throws BagError with every fault, Cancelled when stopped.
 */
export const preview = (spec: string | object, o: PreviewOptions = {}): Result => previewBag(isBag(spec) ? spec : parseBag(spec), o);

const isBag = (spec: string | object): spec is Bag => typeof spec === 'object' && 'version' in spec && Array.isArray((spec as Bag).panels);
