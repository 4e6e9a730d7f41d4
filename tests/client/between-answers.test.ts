/** When the project view is asked for anew. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { betweenAnswers } from '../../client/between-answers.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

describe('a tree that has changed', () => {
  it('is asked for anew at once while it opens nothing', () => {
    const refresh = vi.fn();
    betweenAnswers(refresh).soon();
    expect(refresh).toHaveBeenCalledTimes(1);
  });

  it('is asked for anew once, when each branch that was asked for is open', async () => {
    const refresh = vi.fn();
    const tree = betweenAnswers(refresh);
    const slow = Promise.withResolvers<string>();
    const answers = [tree.during(() => slow.promise), tree.during(async () => 'quick')];
    expect(await answers[1]).toBe('quick');
    tree.soon();
    tree.soon();
    await vi.advanceTimersByTimeAsync(10_000);
    expect(refresh).not.toHaveBeenCalled();
    slow.resolve('slow');
    expect(await answers[0]).toBe('slow');
    // The answer is on its way to the rows that show it.
    expect(refresh).not.toHaveBeenCalled();
    await vi.advanceTimersByTimeAsync(1000);
    expect(refresh).toHaveBeenCalledTimes(1);
  });

  it('is asked for anew where a branch could not be answered for', async () => {
    const refresh = vi.fn();
    const tree = betweenAnswers(refresh);
    const answer = tree.during(() => Promise.reject(new Error('gone')));
    tree.soon();
    await expect(answer).rejects.toThrow('gone');
    await vi.advanceTimersByTimeAsync(1000);
    expect(refresh).toHaveBeenCalledTimes(1);
  });

  it('is not asked for anew where nothing has changed, or once nobody shows it', async () => {
    const refresh = vi.fn();
    const tree = betweenAnswers(refresh);
    await tree.during(async () => 'quick');
    await vi.advanceTimersByTimeAsync(1000);
    const answer = tree.during(async () => 'quick');
    tree.soon();
    await answer;
    tree.dispose();
    await vi.advanceTimersByTimeAsync(1000);
    expect(refresh).not.toHaveBeenCalled();
  });
});
