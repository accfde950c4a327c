// Keeps the page itself on this machine, so that it opens while the workshop's network is away. Nothing that the program
// answers is kept here: answers belong to whoever is signed in, and are kept under their name (answers.ts).

import { cleanupOutdatedCaches, matchPrecache, precacheAndRoute, type PrecacheEntry } from 'workbox-precaching';

interface Fetched extends Event {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}
// Of the worker's own names only what is used: its whole library of types contradicts the page's.
declare const self: EventTarget & {
  /** Every file of the page with its version, written in when the page is built. */
  __PAGE: PrecacheEntry[];
  skipWaiting(): Promise<void>;
  clients: { claim(): Promise<void> };
};

const patience = 4000; // ms that an address of the page may take: a network that swallows everything says nothing. Chosen.

self.addEventListener('fetch', (event) => {
  const { request, respondWith } = event as Fetched;
  if (request.mode !== 'navigate' || new URL(request.url).pathname.startsWith('/api/')) return;
  respondWith.call(event, page(request));
});

/** The page from the program, so that a newer one is there at once; the one that is kept where nobody answers. */
async function page(request: Request): Promise<Response> {
  const kept = matchPrecache('/index.html');
  const asked = fetch(request);
  const late = new Promise<undefined>((done) => setTimeout(done, patience));
  const first = await Promise.race([asked, late]).catch(() => undefined);
  return first ?? (await kept) ?? asked;
}

self.addEventListener('install', () => void self.skipWaiting());
self.addEventListener('activate', (event) =>
  (event as Event & { waitUntil(until: Promise<void>): void }).waitUntil(self.clients.claim()),
);
cleanupOutdatedCaches();
precacheAndRoute(self.__PAGE, { cleanURLs: false, directoryIndex: '' });
