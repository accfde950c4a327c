import { keep, recall } from './kept';

/** Which folded parts of a page are open, kept by this browser. */
export class Folds {
  private readonly name: string;
  private open = $state<string[]>([]);

  constructor(name: string, first: string[]) {
    this.name = name;
    this.open = recall<string[]>(name) ?? first;
  }

  has(id: string): boolean {
    return this.open.includes(id);
  }

  set(id: string, open: boolean): void {
    if (open === this.has(id)) return;
    this.open = open ? [...this.open, id] : this.open.filter((one) => one !== id);
    keep(this.name, this.open);
  }
}
