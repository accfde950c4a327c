import { sentence } from '../api/problem';

/**
 * A question that a slider keeps asking. One is on its way at a time; while it is, only the newest is kept. The last good
 * answer stays in sight while another is fetched or the server is away.
 */
export class Asking<Q, A> {
  answer = $state.raw<A | null>(null);
  asking = $state(false);
  trouble = $state('');
  private newest: Q | null = null;
  private last: Q | null = null;
  private readonly put: (question: Q) => Promise<A>;
  private readonly worth: (answer: A) => boolean;

  /** worth says whether an answer may take the place of one that is shown. */
  constructor(put: (question: Q) => Promise<A>, worth: (answer: A) => boolean = () => true) {
    this.put = put;
    this.worth = worth;
  }

  async ask(question: Q): Promise<void> {
    this.newest = this.last = question;
    if (this.asking) return;
    this.asking = true;
    while (this.newest !== null) {
      const now: Q = this.newest;
      this.newest = null;
      try {
        const got = await this.put(now);
        if (this.answer === null || this.worth(got)) this.answer = got;
        this.trouble = '';
      } catch (error) {
        this.trouble = sentence(error);
      }
    }
    this.asking = false;
  }

  /** Puts the last question once more. */
  async again(): Promise<void> {
    if (this.last !== null) await this.ask(this.last);
  }
}
