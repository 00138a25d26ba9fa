// Loads the engine (strikebed.wasm) and asks it; in a page's worker and in node alike, with nothing beside.
// docs/browser.md describes the use cases, their requests and their documents.
//
//   const engine = await loadEngine(bytes);
//   engine.begin('keep', { time_zones: Intl.supportedValuesOf('timeZone') });
//   const { status, document } = await engine.ask('plan', { goal: { file, text }, today }, show);

export const DONE = 0;
export const WRONG = 1;
export const GOING = 2;

const NOT_THERE = 52; // WASI's "function not supported"

/** What the C library may call: a page has no files, no clock and no environment to give; complaints are said. */
function outside(module, memory, say) {
  const given = {
    fd_write(file, parts, count, written) {
      const view = new DataView(memory().buffer);
      let text = '';
      let bytes = 0;
      for (let part = 0; part < count; part += 1) {
        const start = view.getUint32(parts + 8 * part, true);
        const length = view.getUint32(parts + 8 * part + 4, true);
        text += new TextDecoder().decode(new Uint8Array(memory().buffer, start, length));
        bytes += length;
      }
      view.setUint32(written, bytes, true);
      say(text);
      return 0;
    },
    proc_exit(code) {
      throw new Error(`it ended with ${code}`);
    },
  };
  const imports = {};
  for (const { module: from, name } of WebAssembly.Module.imports(module)) {
    imports[from] ??= {};
    imports[from][name] = given[name] ?? (() => NOT_THERE);
  }
  return imports;
}

/** Ends the turn, so that a worker sees its messages between two steps. */
function nextTurn() {
  return new Promise((resume) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      resume();
    };
    port2.postMessage(null);
  });
}

/**
 * @param {BufferSource} bytes of strikebed.wasm
 * @param {(text: string) => void} say takes what a broken engine complains of
 * @param {(engine: object) => void} fill gives every new instance what it is to hold besides: the daybook
 */
export async function loadEngine(bytes, say = console.error, fill = () => {}) {
  const module = await WebAssembly.compile(bytes);
  const kept = { files: {} };
  let calls = null;

  /** Where there is no instance, one that was given what was kept. */
  function start() {
    if (calls !== null) return;
    const instance = new WebAssembly.Instance(module, outside(module, () => instance.exports.memory, say));
    instance.exports._initialize();
    calls = instance.exports;
    beginNow('keep', JSON.stringify(kept));
    fill(engine);
  }

  function put(text) {
    const utf8 = new TextEncoder().encode(text);
    const room = calls.strikebed_room(utf8.length);
    if (room === 0) throw new Error('there is not enough memory');
    new Uint8Array(calls.memory.buffer, room, utf8.length).set(utf8);
    return [room, utf8.length];
  }

  function said(status) {
    const utf8 = new Uint8Array(calls.memory.buffer, calls.strikebed_document(), calls.strikebed_document_bytes());
    return { status, document: new TextDecoder().decode(utf8) };
  }

  /** An engine that broke off is thrown away; the next call finds a new one that was given the same things. */
  function safely(call) {
    try {
      return said(call());
    } catch (broken) {
      calls = null;
      const problem = `the engine broke off: ${broken.message}`;
      return { status: WRONG, document: JSON.stringify({ error: { message: problem, problem } }) };
    }
  }

  function beginNow(useCase, request) {
    const name = put(useCase);
    const text = put(request);
    const status = calls.strikebed_begin(...name, ...text);
    calls.strikebed_free(name[0]);
    calls.strikebed_free(text[0]);
    return status;
  }

  const engine = {
    /** Begins to answer: { status, document }. `request`: an object, or JSON. */
    begin(useCase, request) {
      const answer = safely(() => {
        start();
        return beginNow(useCase, typeof request === 'string' ? request : JSON.stringify(request));
      });
      if (useCase === 'keep' && answer.status === DONE) {
        const { files, ...others } = typeof request === 'string' ? JSON.parse(request) : request;
        Object.assign(kept, others);
        Object.assign(kept.files, files);
      }
      return answer;
    },

    /** Goes on. */
    step() {
      return safely(() => {
        start();
        return calls.strikebed_step();
      });
    },

    /** Drops what is going on. */
    stop() {
      calls?.strikebed_stop();
    },

    /**
     * The whole answer, step by step, with a turn of the event loop between two steps. `show`, if given, is called with
     * what each step had to say; when it returns false, the work is dropped and null is the answer.
     */
    async ask(useCase, request, show) {
      let answer = engine.begin(useCase, request);
      while (answer.status === GOING) {
        if (show?.(JSON.parse(answer.document)) === false) {
          engine.stop();
          return null;
        }
        await nextTurn();
        answer = engine.step();
      }
      return answer;
    },
  };
  return engine;
}
