'use strict';
(() => {
  const at = id => document.getElementById(id);
  const points = [['wall', 'wall'], ['usb', 'adapter’s output'], ['device', 'device'], ['battery', 'battery']];
  const kinds = [['', 'not known'], ['wired', 'by cable'], ['inductive', 'on a pad'], ['not-used', 'not used']];
  const orders = [['', 'as found'], ['day-first', 'day first'], ['month-first', 'month first']];
  const fields = ['price', 'currency', 'charges', 'hours', 'start', 'end', 'locale'];
  const said = new Map();
  const accuracy = new Map();
  let logs = [];
  let priceIsRight = false;
  let making = false;

  const post = async (path, body, name) => {
    const headers = name === undefined ? {} : { 'X-File-Name': encodeURIComponent(name.slice(-300)) };
    let answer;
    try {
      answer = await fetch(path, { method: 'POST', body, headers });
    } catch {
      throw new Error('The program does not answer. Is it still running in its window?');
    }
    const json = await answer.json();
    if (!answer.ok) {
      throw Object.assign(new Error(json.error), { meant: json.meantPrice ?? null });
    }
    return json;
  };

  const make = (tag, parent, text) => {
    const element = document.createElement(tag);
    if (text !== undefined) {
      element.append(text);
    }
    parent.append(element);
    return element;
  };
  const list = (id, sentences) => {
    at(id).replaceChildren();
    sentences.forEach(sentence => make('li', at(id), sentence));
    at(id).hidden = sentences.length === 0;
  };

  const choice = (parent, log, part, options, label, value) => {
    const select = make('select', parent);
    select.setAttribute('aria-label', `${label}: ${log.name}`);
    for (const [word, text] of options) {
      select.append(new Option(text, word));
    }
    select.value = value ?? said.get(log.id)?.[part] ?? log[part];
    return select;
  };
  const keep = (log, part, element) => element.addEventListener('change', () => {
    said.set(log.id, { ...said.get(log.id), [part]: element.value });
    changed();
  });

  // Name, columns and order of dates: what the program has to read the log again for.
  const reading = (cell, log) => {
    const details = make('details', cell);
    make('summary', details, 'More').setAttribute('aria-label', `More about ${log.name}`);
    const box = make('div', details);
    box.className = 'read';
    const field = (text, value, help) => {
      const label = make('label', box, text);
      const input = make('input', label);
      input.value = value;
      input.placeholder = help;
      input.setAttribute('aria-label', `${text}: ${log.name}`);
      return input;
    };
    const name = field('Name', log.name, '');
    const columns = field('Columns, by position', log.columns, 'time,voltage[mV],-,current');
    make('label', box, 'Dates such as 03/04');
    const order = choice(box, log, 'dateOrder', orders, 'Dates', log.dateOrder);
    const button = make('button', box, 'Apply');
    button.type = 'button';
    button.addEventListener('click', () => act(async () => show(await post('read', JSON.stringify(
      { id: log.id, name: name.value, columns: columns.value, dateOrder: order.value })))));
  };

  const row = log => {
    const line = document.createElement('tr');
    const head = make('th', line, log.name);
    head.scope = 'row';
    if (log.waiting) {
      make('small', head, 'waiting');
    }
    if (log.why.length > 0) {
      const why = make('ul', head);
      why.className = 'why';
      log.why.forEach(sentence => make('li', why, sentence));
    }
    const cell = label => {
      const made = make('td', line);
      made.dataset.label = label;
      return made;
    };
    keep(log, 'kind', choice(cell('How it was charged'), log, 'kind', kinds, 'How it was charged'));
    const method = make('input', cell('Method'));
    method.setAttribute('list', 'methods');
    method.setAttribute('aria-label', `Method: ${log.name}`);
    method.value = said.get(log.id)?.method || log.method;
    method.maxLength = 60;
    keep(log, 'method', method);
    const known = log.point === '' ? [['', 'not known'], ...points] : points;
    keep(log, 'point', choice(cell('Meter at'), log, 'point', known, 'Meter at'));
    const last = make('td', line);
    const gone = make('button', last, 'Remove');
    gone.type = 'button';
    gone.setAttribute('aria-label', `Remove ${log.name}`);
    gone.addEventListener('click', () => act(async () => {
      show(await post('remove', JSON.stringify({ id: log.id })));
      (at('rows').querySelector('button') ?? at('files')).focus();
      count();
    }));
    reading(last, log);
    return line;
  };

  const count = () => {
    at('status').textContent = logs.length === 0 ? 'There are no logs yet.' : logs.length === 1 ? 'There is 1 log.' : `There are ${logs.length} logs.`;
  };

  const show = state => {
    logs = state.logs;
    const focused = document.activeElement?.getAttribute('aria-label');
    at('rows').replaceChildren(...logs.map(row));
    list('notes', state.notes);
    at('methods').replaceChildren(...[...new Set(logs.map(l => l.method).filter(m => m))].map(m => new Option(m)));
    at('list').hidden = at('clear').hidden = at('method-note').hidden = logs.length === 0;
    at('make').disabled = logs.length === 0;
    const used = points.filter(([word]) => logs.some(l => (said.get(l.id)?.point || l.point) === word));
    at('accuracies').replaceChildren(...used.map(([word, text]) => {
      const line = document.createElement('p');
      const label = make('label', line, `Accuracy of the meter at the ${text}`);
      label.htmlFor = `accuracy-${word}`;
      const input = make('input', line);
      input.id = `accuracy-${word}`;
      input.placeholder = 'such as 0.5 % + 0.05 W';
      input.autocomplete = 'off';
      input.value = accuracy.get(word) ?? '';
      input.addEventListener('change', () => {
        accuracy.set(word, input.value.trim());
        changed();
      });
      return line;
    }));
    if (focused) {
      document.querySelector(`[aria-label="${CSS.escape(focused)}"]`)?.focus();
    }
    shown(state.made, state.stale);
  };

  const shown = (made, stale) => {
    at('stale').hidden = !stale;
    if (stale) {
      at('making').textContent = '';
    }
    at('made').hidden = !made;
    if (made) {
      list('answers', made.answers);
      list('assumed', made.assumptions);
    }
  };

  const problem = sentence => {
    make('li', at('problems'), sentence);
    at('problems').hidden = false;
  };
  const act = async work => {
    list('problems', []);
    try {
      await work();
    } catch (error) {
      problem(error.message);
    }
  };

  let queue = Promise.resolve();
  const take = given => {
    queue = queue.then(async () => {
      list('problems', []);
      at('make').disabled = true;
      let chosen = [];
      try {
        chosen = await given;
      } catch (error) {
        problem(`The folder cannot be read (${error.message}); choose the logs in it instead.`);
      }
      for (const [i, { file, name }] of chosen.entries()) {
        at('status').textContent = `Looking at log ${i + 1} of ${chosen.length}: ${name}`;
        try {
          show(await post('log', file, name));
        } catch (error) {
          problem(error.message.startsWith(name) ? error.message : `${name}: ${error.message}`);
        }
      }
      at('make').disabled = logs.length === 0;
      count();
    });
  };

  const named = files => [...files].map(file => ({ file, name: file.name }));

  // A folder comes with the path of each file; names of inner folders may be what tells cable from pad. Hidden files are left out.
  const ofFolder = files => [...files].map(file => ({ file, parts: file.webkitRelativePath.split('/').slice(1) }))
    .filter(({ parts }) => parts.length <= 2 && !parts.some(p => p.startsWith('.')))
    .map(({ file, parts }) => ({ file, name: parts.join(' ') }))
    .sort((a, b) => (a.name < b.name ? -1 : 1));

  // A dropped folder comes as one entry. It is looked into as the command line does: itself and the folders in it, hidden files left out.
  const inside = folder => new Promise((resolve, reject) => {
    const all = [];
    const reader = folder.createReader();
    const more = () => reader.readEntries(some => {
      if (some.length === 0) {
        resolve(all.filter(e => !e.name.startsWith('.')).sort((a, b) => (a.name < b.name ? -1 : 1)));
      } else {
        all.push(...some);
        more();
      }
    }, reject);
    more();
  });
  const filesOf = async (entry, before, deeper) => {
    if (entry.isFile) {
      const file = await new Promise((resolve, reject) => entry.file(resolve, reject));
      return [{ file, name: before + file.name }];
    }
    if (deeper === 0) {
      return [];
    }
    const found = [];
    for (const inner of await inside(entry)) {
      found.push(...await filesOf(inner, inner.isFile ? before : `${before}${inner.name} `, deeper - 1));
    }
    return found;
  };
  const dropped = transfer => {
    const entries = [...transfer.items].map(i => i.webkitGetAsEntry?.()).filter(e => e);
    if (!entries.some(e => e.isDirectory)) {
      return named(transfer.files);
    }
    const several = entries.length > 1;
    return Promise.all(entries.map(e => filesOf(e, several && e.isDirectory ? `${e.name} ` : '', 2))).then(lists => lists.flat());
  };

  for (const [id, of] of [['files', named], ['folder', ofFolder]]) {
    at(id).addEventListener('change', () => {
      take(of(at(id).files));
      at(id).value = '';
    });
  }
  for (const [name, over] of [['dragenter', true], ['dragover', true], ['dragleave', false], ['drop', false]]) {
    document.addEventListener(name, event => {
      event.preventDefault();
      at('drop').classList.toggle('over', over);
      if (name === 'drop') {
        take(dropped(event.dataTransfer));
      }
    });
  }

  const number = (id, what) => {
    const text = at(id).value.trim().replace(',', '.');
    if (text === '') {
      return null;
    }
    if (!/^\d+(\.\d*)?$|^\.\d+$/.test(text)) {
      throw Object.assign(new Error(`${what} is “${at(id).value}”; a number such as 0.30 was expected.`), { field: id });
    }
    return Number(text);
  };
  const answers = () => JSON.stringify({
    logs: logs.map(l => ({ id: l.id, kind: '', point: '', method: '', ...said.get(l.id) })),
    price: number('price', 'The price'),
    currency: at('currency').value.trim() || null,
    chargesPerWeek: number('charges', 'The number of charges a week'),
    hoursOnCharger: number('hours', 'The time on the charger'),
    startPercent: number('start', 'The battery’s charge at the start'),
    endPercent: number('end', 'The battery’s charge at the end'),
    accuracy: Object.fromEntries([...accuracy].filter(([, text]) => text !== '')),
    priceIsRight,
    locale: at('locale').value || null,
  });

  // What is typed is kept by the program, so that nothing is lost when the page is loaded again. Where a report stands already, price and
  // use change it at once; other changes mark it as old.
  let later = 0;
  const changed = again => {
    clearTimeout(later);
    later = setTimeout(() => act(async () => {
      const state = await post('say', answers());
      shown(state.made, state.stale);
      if (again && state.made && !making) {
        await report(false);
      }
    }), 400);
  };
  for (const id of fields) {
    at(id).addEventListener('input', () => {
      priceIsRight = id === 'price' || id === 'currency' ? false : priceIsRight;
      changed(id !== 'start' && id !== 'end');
    });
  }

  const report = async focus => {
    making = true;
    clearTimeout(later);
    at('refused').hidden = at('ask').hidden = true;
    at('make').disabled = true;
    at('making').textContent = 'The report is being made.';
    try {
      const made = await post('make', answers());
      shown(made, false);
      const frame = at('report').cloneNode();
      frame.src = 'report.html';
      at('report').replaceWith(frame);
      at('making').textContent = 'The report is ready.';
      if (focus) {
        at('save').focus();
      }
    } catch (error) {
      at('making').textContent = '';
      at('made').hidden = true;
      if (error.field) {
        at(error.field).focus();
      }
      if (error.meant) {
        at('question').textContent = error.message;
        at('meant').dataset.price = String(error.meant).replace('.', at('locale').selectedOptions[0].dataset.mark);
        at('meant').textContent = `Use ${at('meant').dataset.price}`;
        at('right').textContent = `${at('price').value} is right`;
        at('ask').hidden = false;
      } else {
        at('refused').textContent = error.message;
        at('refused').hidden = false;
      }
    }
    at('make').disabled = logs.length === 0;
    making = false;
  };
  at('make').addEventListener('click', () => report(true));
  at('meant').addEventListener('click', () => {
    at('price').value = at('meant').dataset.price;
    report(true);
  });
  at('right').addEventListener('click', () => {
    priceIsRight = true;
    report(true);
  });

  at('clear').addEventListener('click', () => act(async () => {
    await queue;
    said.clear();
    accuracy.clear();
    fields.forEach(id => { at(id).value = ''; });
    show(await post('clear'));
    at('refused').hidden = at('ask').hidden = true;
    count();
    at('files').focus();
  }));

  const restored = state => {
    const before = state.said;
    said.clear();
    for (const { id, ...rest } of before?.logs ?? []) {
      said.set(id, Object.fromEntries(Object.entries(rest).filter(([, value]) => value)));
    }
    accuracy.clear();
    Object.entries(before?.accuracy ?? {}).forEach(([word, text]) => accuracy.set(word, text));
    const values = before
      ? [before.price, before.currency, before.chargesPerWeek, before.hoursOnCharger, before.startPercent, before.endPercent, before.locale] : [];
    fields.forEach((id, i) => { at(id).value = values[i] ?? ''; });
    priceIsRight = before?.priceIsRight === true;
    show(state);
    if (state.made) {
      at('report').src = 'report.html';
    }
  };
  const load = () => fetch('state').then(answer => answer.json()).then(state => {
    restored(state);
    count();
  }, () => problem('The program does not answer. Is it still running in its window?'));

  // Another tab may have changed something while this one lay behind it.
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible' && !making) {
      queue = queue.then(load);
    }
  });
  // What is pressed meanwhile waits: an answer that comes later would show the state before it.
  queue = queue.then(load);
})();
