import { describe, expect, it } from 'vitest';
import { Asking } from './asking.svelte';

/** A server that answers when it is told to. */
function slow() {
  const waiting: { question: number; yes: (answer: number) => void; no: (error: Error) => void }[] = [];
  const put = (question: number) =>
    new Promise<number>((yes, no) => {
      waiting.push({ question, yes, no });
    });
  return { waiting, put };
}
const soon = () => new Promise((done) => setTimeout(done, 0));

describe('a question that a slider keeps asking', () => {
  it('is on its way once, and then only the newest is put', async () => {
    const { waiting, put } = slow();
    const one = new Asking<number, number>(put);
    void one.ask(1);
    void one.ask(2);
    void one.ask(3);
    expect(waiting.map((w) => w.question)).toEqual([1]);
    waiting[0]?.yes(10);
    await soon();
    expect(one.answer).toBe(10);
    expect(waiting.map((w) => w.question)).toEqual([1, 3]);
    waiting[1]?.yes(30);
    await soon();
    expect(one.answer).toBe(30);
    expect(one.asking).toBe(false);
  });
  it('keeps the last good answer when the server is away, and says so', async () => {
    const { waiting, put } = slow();
    const one = new Asking<number, number>(put);
    void one.ask(1);
    waiting[0]?.yes(10);
    await soon();
    void one.ask(2);
    waiting[1]?.no(new Error('gone'));
    await soon();
    expect(one.answer).toBe(10);
    expect(one.trouble).not.toBe('');
    void one.ask(3);
    waiting[2]?.yes(30);
    await soon();
    expect(one.trouble).toBe('');
  });
  it('does not put an answer that is worth nothing in the place of one that is', async () => {
    const { waiting, put } = slow();
    const one = new Asking<number, number>(put, (got) => got > 0);
    void one.ask(1);
    waiting[0]?.yes(-1);
    await soon();
    expect(one.answer).toBe(-1);
    void one.ask(2);
    waiting[1]?.yes(20);
    await soon();
    void one.ask(3);
    waiting[2]?.yes(-3);
    await soon();
    expect(one.answer).toBe(20);
  });
  it('puts the last question again when it is told to', async () => {
    const { waiting, put } = slow();
    const one = new Asking<number, number>(put);
    await one.again();
    expect(waiting).toEqual([]);
    void one.ask(7);
    waiting[0]?.no(new Error('gone'));
    await soon();
    void one.again();
    expect(waiting.map((w) => w.question)).toEqual([7, 7]);
    waiting[1]?.yes(70);
    await soon();
    expect(one.answer).toBe(70);
    expect(one.trouble).toBe('');
  });
});
