// A page of your own: `npx vite build demos/programs/page` bundles it. The bag settles in a worker, so that the page can be typed in meanwhile; a new width stops the old.
import { newBag } from 'slumpline/bag';
import { picture } from 'slumpline/report';
import { startWorkers } from 'slumpline/worker';

const workers = startWorkers({ count: 1 });
const at = (id) => document.getElementById(id);
let stop = new AbortController();

at('settle').onclick = async () => {
  stop.abort();
  stop = new AbortController();
  const { signal } = stop;
  try {
    const result = await workers.preview(newBag('boxed-tote', { W: `${at('width').value} mm` }), {
      edgeLength: 0.04,
      bands: ['mid'],
      signal,
      onProgress: ({ stage, fraction }) => {
        at('words').textContent = `${stage}, ${Math.floor(100 * fraction)} %`;
      },
    });
    at('words').textContent = `${result.verdict.word}: ${result.verdict.reason}`;
    at('picture').innerHTML = picture([result]);
  } catch (error) {
    if (!signal.aborted) at('words').textContent = error.message;
  }
};
