import type { Conflict, Fault } from './contract';

/** What the server refused, in words to show (RFC 9457), with the faults and the conflict it may carry. */
export class Problem extends Error {
  readonly status: number;
  readonly faults: Fault[];
  readonly places: { location: string; message: string }[];
  readonly conflict: Conflict | null;

  constructor(status: number, title: string, body: Record<string, unknown> = {}) {
    super(title);
    this.name = 'Problem';
    this.status = status;
    this.faults = Array.isArray(body.faults) ? (body.faults as Fault[]) : [];
    this.places = Array.isArray(body.errors) ? (body.errors as { location: string; message: string }[]) : [];
    for (const fault of this.faults) {
      if (fault.location) this.places.push({ location: fault.location, message: fault.want });
    }
    this.conflict = status === 409 && Array.isArray(body.fields) && body.theirs ? (body as unknown as Conflict) : null;
  }

  /** True when no server answered at all. */
  get unreachable(): boolean {
    return this.status === 0;
  }
}

/** Whether the same may be taken a little later: no answer, somebody has to log in, or the server is busy or broken. */
export function later(error: unknown): boolean {
  if (!(error instanceof Problem)) return true;
  return error.unreachable || [401, 408, 423, 425, 429].includes(error.status) || error.status >= 500;
}

/** One sentence of what went wrong and what to do. */
export function sentence(error: unknown): string {
  if (error instanceof Problem) {
    if (error.unreachable)
      return 'The program on this machine does not answer. What you typed is kept; it goes on when the program runs again.';
    return error.message;
  }
  return error instanceof Error ? error.message : 'Something went wrong; nothing typed is lost.';
}
