// Where a page was left: Back, Forward and a reload show it where it stood. The browser keeps that for the window, and
// here it is the content that scrolls.

const waits = 3000; // for a page to be as long as it was [ms]

interface Entry {
  scroll?: number;
}

/** Notes how far the content is scrolled, in the entry of the history that is shown. */
export function noteScroll(): void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  document.addEventListener(
    'scroll',
    (event) => {
      const main = event.target;
      if (!(main instanceof HTMLElement) || main.id !== 'content' || giving) return;
      const at = location.pathname;
      clearTimeout(timer);
      timer = setTimeout(() => {
        if (location.pathname === at) history.replaceState({ scroll: main.scrollTop } satisfies Entry, '');
      }, 80);
    },
    true,
  );
}

let giving: ReturnType<typeof setTimeout> | undefined;

/** Scrolls to where this entry of the history was left, as soon as the page is long enough, unless a hand is faster. */
export function giveScroll(entry: unknown): void {
  stop();
  const to = (entry as Entry | null)?.scroll ?? 0;
  if (to <= 0) return;
  const until = Date.now() + waits;
  const look = () => {
    const main = document.querySelector('#content');
    if (main && main.scrollHeight - main.clientHeight >= to) {
      main.scrollTo(0, to);
      // Once more when what comes late is there: it may stand above.
      if (Math.abs(main.scrollTop - to) < 2 && Date.now() > until - waits + 400) return stop();
    }
    if (Date.now() > until) return stop();
    giving = setTimeout(look, 50);
  };
  for (const hand of hands) addEventListener(hand, stop, { passive: true });
  giving = setTimeout(look, 0);
}

const hands = ['wheel', 'touchstart', 'pointerdown', 'keydown'] as const;

function stop(): void {
  clearTimeout(giving);
  giving = undefined;
  for (const hand of hands) removeEventListener(hand, stop);
}
