// Has the browser keep the page itself. A browser does that only where it trusts the program's address.

const rest = 3000; // ms after the page is there: what is looked at comes first

/** Registers the worker; `renewed` is called when a newer page has taken over, `kept` with whether the browser keeps it. */
export function keepPage(renewed: () => void, kept: (does: boolean) => void): void {
  const workers = 'serviceWorker' in navigator ? navigator.serviceWorker : undefined;
  if (!workers) {
    kept(false);
    return;
  }
  const before = workers.controller !== null;
  workers.addEventListener('controllerchange', () => {
    if (before) renewed();
  });
  const register = () =>
    setTimeout(() => {
      workers.register('/sw.js').then(
        () => kept(true),
        () => kept(false),
      );
    }, rest);
  if (document.readyState === 'complete') register();
  else addEventListener('load', register, { once: true });
}
