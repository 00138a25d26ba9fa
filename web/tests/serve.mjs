// The built page on a free port of this machine, as any web host would serve it.
import { createServer } from 'node:http';
import { readFileSync, statSync } from 'node:fs';
import { extname, join, normalize } from 'node:path';
import { fileURLToPath } from 'node:url';

const dist = fileURLToPath(new URL('../dist/', import.meta.url));
const types = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.wasm': 'application/wasm',
  '.svg': 'image/svg+xml',
  '.json': 'application/json',
  '.csv': 'text/csv',
  '.webmanifest': 'application/manifest+json',
};
const policy =
  "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' blob: data:; " +
  "connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'";

export function servePage() {
  const server = createServer((request, answer) => {
    const path = normalize(decodeURIComponent(new URL(request.url, 'http://page').pathname));
    const file = join(dist, path.endsWith('/') ? `${path}index.html` : path);
    try {
      if (!statSync(file).isFile()) throw new Error('no file');
      answer.writeHead(200, {
        'Content-Type': types[extname(file)] ?? 'application/octet-stream',
        'Content-Security-Policy': policy,
      });
      answer.end(readFileSync(file));
    } catch {
      answer.writeHead(404).end();
    }
  });
  return new Promise((ready) => {
    server.listen(0, '127.0.0.1', () => {
      ready({
        address: `http://127.0.0.1:${server.address().port}/`,
        stop: () => new Promise((done) => (server.closeAllConnections(), server.close(done))),
      });
    });
  });
}
