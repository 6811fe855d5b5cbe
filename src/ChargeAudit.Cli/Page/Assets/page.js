'use strict';
(() => {
  const at = id => document.getElementById(id);
  const points = [['wall', 'wall'], ['usb', 'adapter’s output'], ['device', 'device'], ['battery', 'battery']];
  const kinds = [['', 'not known'], ['wired', 'by cable'], ['inductive', 'on a pad'], ['not-used', 'not used']];
  const said = new Map();
  let logs = [];

  const post = async (path, body, name) => {
    const headers = name === undefined ? {} : { 'X-File-Name': encodeURIComponent(name.slice(-300)) };
    let answer;
    try {
      answer = await fetch(path, { method: 'POST', body, headers });
    } catch {
      throw new Error('The program does not answer; is it still running?');
    }
    const json = await answer.json();
    if (!answer.ok) {
      throw new Error(json.error);
    }
    return json;
  };

  const choice = (log, part, options, label) => {
    const select = document.createElement('select');
    select.setAttribute('aria-label', `${label}: ${log.name}`);
    for (const [value, text] of options) {
      select.append(new Option(text, value));
    }
    select.value = said.get(log.id)?.[part] ?? log[part];
    select.addEventListener('change', () => said.set(log.id, { ...said.get(log.id), [part]: select.value }));
    return select;
  };

  const show = state => {
    logs = state.logs;
    at('rows').replaceChildren(...logs.map(log => {
      const row = document.createElement('tr');
      const head = document.createElement('th');
      head.scope = 'row';
      head.append(log.name);
      if (log.waiting) {
        const small = document.createElement('small');
        small.append('waiting');
        head.append(small);
      }
      const kind = document.createElement('td');
      kind.append(choice(log, 'kind', kinds, 'How it was charged'));
      const point = document.createElement('td');
      point.append(choice(log, 'point', log.point === '' ? [['', 'not known'], ...points] : points, 'Meter at'));
      row.append(head, kind, point);
      return row;
    }));
    at('list').hidden = at('clear').hidden = logs.length === 0;
    at('make').disabled = logs.length === 0;
  };

  const problem = sentence => {
    const item = document.createElement('li');
    item.append(sentence);
    at('problems').append(item);
    at('problems').hidden = false;
  };

  let queue = Promise.resolve();
  const take = given => {
    queue = queue.then(async () => {
      at('problems').replaceChildren();
      at('problems').hidden = true;
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
      at('status').textContent = logs.length === 0 ? 'There are no logs yet.' : logs.length === 1 ? 'There is 1 log.' : `There are ${logs.length} logs.`;
    });
  };

  const named = files => [...files].map(file => ({ file, name: file.name }));

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
      // The name of a folder may be what tells cable from pad.
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

  at('files').addEventListener('change', () => {
    take(named(at('files').files));
    at('files').value = '';
  });
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
      at(id).focus();
      throw new Error(`${what} is “${at(id).value}”; a number such as 0.30 was expected.`);
    }
    return Number(text);
  };

  at('clear').addEventListener('click', async () => {
    await queue;
    said.clear();
    show(await post('clear'));
    at('made').hidden = at('refused').hidden = true;
    at('status').textContent = 'There are no logs yet.';
    at('files').focus();
  });

  at('make').addEventListener('click', async () => {
    at('refused').hidden = at('made').hidden = true;
    at('make').disabled = true;
    at('making').textContent = 'The report is being made.';
    try {
      const made = await post('make', JSON.stringify({
        logs: logs.map(l => ({ id: l.id, kind: said.get(l.id)?.kind ?? '', point: said.get(l.id)?.point ?? '' })),
        price: number('price', 'The price'),
        currency: at('currency').value.trim() || null,
        chargesPerWeek: number('charges', 'The number of charges a week'),
        hoursOnCharger: number('hours', 'The time on the charger'),
      }));
      at('assumed').replaceChildren(...made.assumptions.map(sentence => {
        const item = document.createElement('li');
        item.append(sentence);
        return item;
      }));
      const frame = at('report').cloneNode();
      frame.src = 'report.html';
      at('report').replaceWith(frame);
      at('made').hidden = false;
      at('making').textContent = 'The report is ready.';
      at('save').focus();
    } catch (error) {
      at('making').textContent = '';
      at('refused').textContent = error.message;
      at('refused').hidden = false;
    }
    at('make').disabled = logs.length === 0;
  });

  fetch('state').then(answer => answer.json()).then(state => {
    show(state);
    if (logs.length > 0) {
      at('status').textContent = logs.length === 1 ? 'There is 1 log.' : `There are ${logs.length} logs.`;
    }
  }, () => problem('The program does not answer; is it still running?'));
})();
