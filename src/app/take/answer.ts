/** What a worker answers to one question. Errors: it stopped. */
export function answerOf<Say>(worker: Worker, question: unknown): Promise<Say> {
  return new Promise<Say>((resolve, reject) => {
    worker.onmessage = ({ data }: MessageEvent<Say>) => resolve(data);
    worker.onerror = (event) => {
      event.preventDefault();
      reject(new Error(event.message));
    };
    worker.postMessage(question);
  }).finally(() => worker.terminate());
}
