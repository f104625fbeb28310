import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { snapped } from '../../src/app/flat/snap.ts';
import { History, MOST_STEPS } from '../../src/app/page/history.ts';

describe('history of bag texts', () => {
  it('keeps 200 steps of 250, the newest ones, and goes back and forth through all of them', () => {
    const history = new History();
    for (let i = 0; i < 250; i++) history.keep(`bag ${i}`, `step ${i}`, false);
    expect(history.length).toBe(MOST_STEPS);
    let now = 'bag 250';
    for (let step = history.undo(now); step; step = history.undo(now)) now = step.text;
    expect(now).toBe('bag 50');
    for (let step = history.redo(now); step; step = history.redo(now)) now = step.text;
    expect(now).toBe('bag 250');
  });

  it('a new change forgets what was undone; 3 texts of 400 000 characters leave the newest 2', () => {
    const history = new History();
    for (let i = 0; i < 3; i++) history.keep(`${i}`.repeat(400_000), `step ${i}`, false);
    expect(history.length).toBe(2);
    history.undo('now');
    expect(history.redoable?.what).toBe('step 2');
    history.keep('other', 'another way', false);
    expect(history.redoable).toBeNull();
  });

  it('one text longer than everything that is kept is still undoable', () => {
    const history = new History();
    history.keep('x'.repeat(1_500_000), 'opened', true);
    expect(history.undoable?.what).toBe('opened');
  });

  it('what is not a history is read as an empty one', () => {
    for (const text of [null, '', '{', '[]', 'null', '{"past": 3}', '{"past": [1, {"text": 2}]}']) {
      const history = new History();
      history.read(text);
      expect([history.undoable, history.redoable]).toEqual([null, null]);
    }
  });
});

describe('snapping of a dragged corner', () => {
  const neighbours = [{ name: 'corner 3', at: [0.1204, 0.25] as const }];

  it('1 mm grid away from everything: 87.4, 33.6 mm comes to 87, 34 mm', () => {
    const { at, why } = snapped([0.0874, 0.0336], { grid: 0.001, reach: 0.004, neighbours, centre: null });
    expect(at.map((v) => Number((v * 1000).toFixed(6)))).toEqual([87, 34]);
    expect(why).toEqual([null, null]);
  });

  it('another corner’s x within reach beats the grid, and the centre line catches x = 3 mm', () => {
    expect(snapped([0.118, 0.1], { grid: 0.001, reach: 0.004, neighbours, centre: null }).at[0]).toBe(0.1204);
    expect(snapped([0.003, 0.1], { grid: 0.001, reach: 0.004, neighbours, centre: 'centre' })).toEqual({ at: [0, 0.1], why: ['centre', null] });
  });
});

it('1000 random ways of changes, openings, undos and redos: text and bag are those of a model that keeps a plain list of states', () => {
  const way = fc.array(fc.constantFrom('change', 'open', 'undo', 'redo'), { maxLength: 60 });
  fc.assert(
    fc.property(way, (steps) => {
      const history = new History();
      let [now, id, count] = ['0', 'bag 0', 0];
      // The model: every state there was, and where in it we are.
      let states = [{ text: now, id }];
      let at = 0;
      for (const step of steps) {
        if (step === 'change' || step === 'open') {
          history.keep(now, step, step === 'open', id);
          now = String(++count);
          if (step === 'open') id = `bag ${count}`;
          states = [...states.slice(0, at + 1), { text: now, id }];
          at++;
        } else {
          const back = history[step](now, id);
          if (back) {
            now = back.text;
            if (back.opened) id = back.id ?? '';
          }
          at = Math.max(0, Math.min(states.length - 1, at + (step === 'undo' ? -1 : 1)));
        }
        expect({ text: now, id }).toEqual(states[at]);
      }
    }),
    { numRuns: 1000, seed: 26 },
  );
});
