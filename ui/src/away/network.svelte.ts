/** Whether the workshop's program answers, and from when what is shown is. */
export class Network {
  /** Since when nobody answers; null while somebody does. */
  since = $state<Date | null>(null);
  /** When the last answer came, or when the answer in sight was given where the page began without a network. */
  from = $state<Date | null>(null);

  answered(): void {
    this.from = new Date();
    if (this.since === null) return;
    this.since = null;
    dispatchEvent(new CustomEvent('network-back'));
  }

  lost(): void {
    this.since ??= new Date();
  }

  /** What is shown was answered then. */
  shown(at: number): void {
    if (this.since !== null && (this.from === null || this.from.getTime() > at)) this.from = new Date(at);
  }
}
