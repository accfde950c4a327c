import type { NoteRequest } from '../../api/contract';

/**
 * Gives a note a name of the page's own: the very same note sent again after a lost answer has the same one and is kept
 * once, any other has another.
 */
export function naming(): { named: (note: NoteRequest) => NoteRequest; kept: () => void } {
  let last = '';
  let id = '';
  return {
    named: (note) => {
      const text = JSON.stringify(note);
      if (text !== last) {
        last = text;
        // crypto.randomUUID is not there on a workshop's network without a certificate.
        const bytes = crypto.getRandomValues(new Uint8Array(16));
        id = Array.from(bytes, (one) => one.toString(16).padStart(2, '0')).join('');
      }
      return { ...note, id };
    },
    kept: () => (last = ''),
  };
}
