// A page of your own that asks beside its other work: web workers, progress, stop. Any bundler takes it, for one:  npx vite build --base ./
import { BagError, preview } from 'slumpline';
import { newBag, parseBag } from 'slumpline/bag';
import { startWorkers } from 'slumpline/worker';

const the = (id) => document.getElementById(id);
const workers = startWorkers();
let stop = null;

the('ask').addEventListener('click', async () => {
  stop?.abort(new Error('asked anew'));
  const mine = new AbortController();
  stop = mine;
  the('words').replaceChildren();
  the('stop').disabled = false;
  const say = (words) => the('words').append(Object.assign(document.createElement('li'), { textContent: words }));
  try {
    const bag = parseBag(newBag('boxed-tote', { W: `${the('width').value} mm` }));
    const far = bag.options.map(() => 0);
    await Promise.all(
      bag.options.map(async ({ name }, i) => {
        const { verdict } = await preview(bag, {
          option: name,
          edgeLength: 0.05,
          executor: workers.executor,
          signal: mine.signal,
          onProgress: ({ fraction }) => {
            far[i] = fraction;
            the('far').value = far.reduce((sum, f) => sum + f, 0) / far.length;
          },
        });
        say(`${name}: ${verdict.word}`);
      }),
    );
    the('far').value = 1;
  } catch (error) {
    if (error instanceof BagError) for (const { path, expected } of error.faults) say(`${path}: expected ${expected}`);
    else if (mine.signal.aborted) say('stopped');
    else throw error;
  } finally {
    if (stop === mine) the('stop').disabled = true;
  }
});
the('stop').addEventListener('click', () => stop?.abort(new Error('stopped')));
