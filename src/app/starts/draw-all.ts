/** Built and run by .ci/build.mjs, in no page: the pictures of all bags to start from as JSON, { svg, size } by the template's name. */

import { parseBag, templates } from '../../index.ts';
import { startOf } from '../flat/start-of.ts';

/** JSON of every template's picture. */
export const startPictures = (): string =>
  JSON.stringify(
    Object.fromEntries(
      templates().map(({ name, text }) => {
        const { svg, size } = startOf(parseBag(text));
        return [name, { svg, size }];
      }),
    ),
  );
