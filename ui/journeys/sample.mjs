// The sample server of the page of components, behind /api: built on the fly from its TypeScript.
import { createServer as viteServer } from 'vite';

export async function sampleApi(change = {}) {
  const vite = await viteServer({
    configFile: false,
    root: new URL('..', import.meta.url).pathname,
    server: { middlewareMode: true, hmr: false, ws: false },
    appType: 'custom',
    logLevel: 'error',
    optimizeDeps: { noDiscovery: true },
  });
  const { sampleServer } = await vite.ssrLoadModule('/src/sample/server.ts');
  await vite.close();
  const sample = sampleServer(change);
  const read = async (request) => {
    let text = '';
    for await (const chunk of request) text += chunk;
    return text ? JSON.parse(text) : {};
  };
  const api = async (request, response, path) => {
    const send = (body, status = 200) => {
      response.writeHead(status, { 'Content-Type': 'application/json' });
      response.end(body === undefined ? '' : JSON.stringify(body));
    };
    const url = new URL(request.url, 'http://localhost');
    const parts = path.split('/').slice(2).map(decodeURIComponent);
    const body = await read(request);
    if (parts[0] === 'events') {
      response.writeHead(200, { 'Content-Type': 'text/event-stream' });
      response.write(': there\n\n');
      return;
    }
    if (parts[0] === 'session') return send(await sample.session());
    if (parts[0] === 'try') return send(await sample.attempt(body));
    if (parts[0] === 'views' && parts[2] === 'trace')
      return send(await sample.trace(parts[1], url.searchParams.get('build')));
    if (parts[0] === 'views' && parts[2] === 'plans') return send(await sample.plan(parts[1], parts[3], 'metric'));
    if (parts[0] === 'measuring') return send(await sample.measuring('metric'));
    if (parts[0] === 'views') return send(await sample.working(parts[1], parts[3], 'metric'));
    if (parts[0] === 'catalogue') return send({ parts: await sample.catalogue(url.searchParams.get('kind'), '') });
    if (parts[0] === 'jobs' && parts.length === 1 && request.method === 'GET')
      return send(await sample.jobs(url.searchParams.get('search') ?? ''));
    if (parts[0] === 'jobs' && parts.length === 1) return send(await sample.create(body), 201);
    if (parts[2] === 'draft')
      return request.method === 'DELETE'
        ? send(await sample.dropDraft(parts[1]))
        : send(await sample.keepDraft(parts[1], body));
    if (parts[2] === 'revisions') return send({ revisions: await sample.revisions(parts[1]) });
    if (parts[2] === 'history') return send(await sample.history(parts[1]));
    if (parts[0] === 'jobs' && request.method === 'PUT')
      return send(await sample.save(parts[1], Number((request.headers['if-match'] ?? '0').replaceAll('"', '')), body));
    if (parts[0] === 'jobs') return send(await sample.job(parts[1]));
    send({ title: 'not here' }, 404);
  };
  return { api, sample };
}
