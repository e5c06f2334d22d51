'use strict';
(() => {
  document.documentElement.classList.add('script');

  // Ticks are kept by the design's content. A browser may refuse to keep
  // anything for a page; the ticks then last as long as the page is open.
  const keep = (key, numbers) => {
    try { localStorage.setItem('stopcard ' + key, numbers.join(',')); } catch { /* refused */ }
  };
  const kept = key => {
    try { return (localStorage.getItem('stopcard ' + key) || '').split(','); } catch { return []; }
  };

  const ticks = design => {
    const stops = [...design.querySelectorAll('.stop')];
    if (!stops.length) return;
    const box = stop => stop.querySelector('.tick input');
    const done = design.querySelector('.done'), next = design.querySelector('.next');
    const show = () => {
      const open = stops.filter(s => !box(s).checked);
      stops.forEach(s => s.classList.toggle('is-done', box(s).checked));
      done.textContent = (stops.length - open.length) + ' of ' + stops.length + ' done.';
      next.hidden = !open.length;
      if (open.length) {
        next.href = '#' + open[0].id;
        next.textContent = 'Next: ' + open[0].dataset.stop + ', ' + open[0].dataset.name;
      }
    };
    const old = kept(design.dataset.key);
    stops.forEach(s => {
      box(s).checked = old.includes(s.dataset.stop);
      box(s).addEventListener('change', () => {
        save();
        undo.hidden = true;
        cleared.textContent = '';
        show();
      });
    });
    const save = () => keep(design.dataset.key, stops.filter(t => box(t).checked).map(t => t.dataset.stop));
    const undo = design.querySelector('.undo'), cleared = design.querySelector('.cleared');
    let before = [];
    design.querySelector('.clear').addEventListener('click', () => {
      const was = stops.filter(s => box(s).checked);
      stops.forEach(s => { box(s).checked = false; });
      save();
      show();
      if (!was.length) return;
      before = was;
      undo.hidden = false;
      cleared.textContent = was.length + ' ticks cleared.';
    });
    undo.addEventListener('click', () => {
      before.forEach(s => { box(s).checked = true; });
      save();
      show();
      undo.hidden = true;
      cleared.textContent = 'The ticks are back.';
    });
    design.querySelector('.go-one').addEventListener('click', () => one.open(stops, save, show));
    show();
  };

  // One stop at a time, in letters that are read from the machine: swipe or press
  // the arrows to look, Done to tick and go on.
  const one = (() => {
    const dialog = document.getElementById('one'), get = id => document.getElementById(id), part = name => dialog.querySelector(name);
    let stops = [], at = 0, save, after, awake = null;
    const box = stop => stop.querySelector('.tick input');
    // The screen stays on while the mode is open, where the browser allows it.
    const wake = async () => {
      try { if (navigator.wakeLock && dialog.open && !awake) {
        awake = await navigator.wakeLock.request('screen');
        awake.addEventListener('release', () => { awake = null; });
      } } catch { awake = null; }
    };
    const sleep = () => { if (awake) awake.release().catch(() => {}); awake = null; };
    const hands = (into, lead, verbs, list) => {
      into.hidden = !verbs && !list;
      into.replaceChildren();
      if (into.hidden) return '';
      into.append(lead);
      const b = document.createElement('b');
      b.textContent = verbs;
      into.append(b);
      if (list) [...list.children].forEach(li => { const line = document.createElement('span'); line.textContent = li.textContent + '. '; into.append(line); });
      return lead + ' ' + (verbs || into.textContent) + '. ';
    };
    const show = () => {
      const stop = stops[at], d = stop.dataset;
      get('one-count').textContent = 'Stop ' + d.stop + ' of ' + stops.length + ', ' + stops.filter(s => box(s).checked).length + ' done';
      part('.one-number').textContent = d.stop;
      part('.one-swatch').replaceChildren(stop.querySelector('.thread .swatch').cloneNode(true));
      part('.one-word').textContent = d.word;
      part('.one-role').textContent = d.name + ('any' in d ? '; any thread will do' : '');
      const picture = stop.querySelector('.enlarge svg');
      part('.one-picture').replaceChildren(...(picture ? [picture.cloneNode(true)] : []));
      const note = stop.querySelector('.told > p > b');
      part('.one-note').hidden = !note;
      part('.one-note').textContent = note ? note.textContent : '';
      const partly = stop.closest('.design').dataset.partly || '';
      part('.one-partly').hidden = !partly;
      part('.one-partly').textContent = partly;
      const first = hands(part('.one-first'), 'First, by hand', d.first, stop.querySelector('.hands.before'));
      let then = hands(part('.one-then'), 'Then, by hand', d.then, stop.querySelector('.hands.after'));
      if ('end' in d) {
        part('.one-then').hidden = false;
        part('.one-then').append(' The block may end here.');
        then += 'The block may end here. ';
      }
      part('.one-next').textContent = d.next;
      const done = box(stop).checked;
      get('one-done').textContent = done ? 'Done, go on' : 'Done';
      get('one-done').classList.toggle('is-done', done);
      get('one-back').disabled = at === 0;
      get('one-on').disabled = at === stops.length - 1;
      get('one-stop').scrollTop = 0;
      get('one-say').textContent = (partly && partly + ' ') + 'Stop ' + d.stop + ', ' + d.word + ', ' + d.name + '. ' + first + then + d.next;
    };
    const go = by => {
      at = Math.max(0, Math.min(stops.length - 1, at + by));
      show();
    };
    get('one-back').addEventListener('click', () => go(-1));
    get('one-on').addEventListener('click', () => go(1));
    get('one-done').addEventListener('click', () => {
      box(stops[at]).checked = true;
      save();
      after();
      if (at === stops.length - 1 && stops.every(s => box(s).checked)) {
        show();
        part('.one-next').textContent = 'All stops are done.';
        get('one-say').textContent = 'All stops are done.';
        return;
      }
      go(1);
    });
    get('one-close').addEventListener('click', () => dialog.close());
    dialog.addEventListener('close', () => { sleep(); part('.one-picture').replaceChildren(); stops[at].scrollIntoView(); });
    dialog.addEventListener('keydown', e => {
      if (e.key === 'ArrowLeft') go(-1);
      if (e.key === 'ArrowRight') go(1);
    });
    // A swipe is a way of more than a sixth of the screen, more aside than up.
    let x = 0, y = 0;
    const area = get('one-stop');
    area.addEventListener('touchstart', e => { x = e.changedTouches[0].clientX; y = e.changedTouches[0].clientY; }, {passive: true});
    area.addEventListener('touchend', e => {
      const dx = e.changedTouches[0].clientX - x, dy = e.changedTouches[0].clientY - y;
      if (Math.abs(dx) > innerWidth / 6 && Math.abs(dx) > 1.5 * Math.abs(dy)) go(dx < 0 ? 1 : -1);
    }, {passive: true});
    document.addEventListener('visibilitychange', () => { if (!document.hidden) wake(); });
    return {
      open(list, keepTicks, showTicks) {
        stops = list; save = keepTicks; after = showTicks;
        const next = stops.findIndex(s => !box(s).checked);
        at = next < 0 ? 0 : next;
        dialog.showModal();
        show();
        get('one-done').focus();
        wake();
      },
    };
  })();

  // The slider shows the layers up to its stop, and a plain line under the
  // last of them, so that a thin placement line is seen on a small screen.
  const slider = design => {
    const stage = design.querySelector('.stage'), input = stage && stage.querySelector('input[type=range]');
    if (!input) return;
    const layers = [...stage.querySelectorAll('.layer')], text = stage.querySelector('.upto');
    const show = () => {
      const n = Number(input.value), last = layers[n - 1];
      layers.forEach((l, i) => l.classList.toggle('off', i >= n));
      stage.querySelectorAll('.now').forEach(e => e.remove());
      const row = document.getElementById(design.id + '-s' + last.dataset.stop);
      row.querySelectorAll('.line').forEach(line => {
        const copy = line.cloneNode();
        copy.classList.add('now');
        last.before(copy);
      });
      text.textContent = 'Stop ' + last.dataset.stop + ' of ' + layers.length + ': ' + row.dataset.name;
      input.setAttribute('aria-valuetext', text.textContent);
    };
    input.addEventListener('input', show);
    stage.querySelectorAll('.step').forEach(b => b.addEventListener('click', () => {
      input.value = Number(input.value) + Number(b.dataset.by);
      show();
    }));
    const marks = stage.querySelector('.show-marks');
    if (marks) marks.addEventListener('change', () => stage.querySelector('.marks').classList.toggle('off', !marks.checked));
  };

  // One dialog shows any picture large. Escape closes it, as in every dialog.
  const large = document.getElementById('large'), picture = document.getElementById('large-picture');
  const closer = document.getElementById('closer');
  const near = on => {
    picture.classList.toggle('close', on);
    closer.setAttribute('aria-pressed', on);
    // What the picture is about comes to the middle.
    const about = picture.querySelector('.line') || picture.firstElementChild;
    const a = about.getBoundingClientRect(), p = picture.getBoundingClientRect();
    picture.scrollBy(a.x + a.width / 2 - p.x - p.width / 2, a.y + a.height / 2 - p.y - p.height / 2);
  };
  document.querySelectorAll('button.enlarge').forEach(b => b.addEventListener('click', () => {
    document.getElementById('large-name').textContent = b.dataset.name;
    picture.replaceChildren(b.querySelector('svg').cloneNode(true));
    picture.classList.toggle('of-row', !!b.closest('.stop'));
    picture.style.setProperty('--cloth', getComputedStyle(b).getPropertyValue('--cloth'));
    large.showModal();
    document.getElementById('close').focus();
    near(false);
  }));
  closer.addEventListener('click', () => near(!picture.classList.contains('close')));
  document.getElementById('close').addEventListener('click', () => large.close());
  large.addEventListener('close', () => picture.replaceChildren());

  // An index entry opens its design.
  const unfold = () => {
    const at = document.getElementById(location.hash.slice(1));
    const design = at && at.closest('details.design');
    if (design && !design.open) {
      design.open = true;
      at.scrollIntoView();
    }
  };
  addEventListener('hashchange', unfold);
  unfold();

  document.querySelectorAll('.design').forEach(d => { ticks(d); slider(d); });

  // Paper shows the open design whole: what is folded up in it is unfolded first.
  let folded = [];
  addEventListener('beforeprint', () => {
    folded = [...document.querySelectorAll('.design .findings details:not([open])')];
    folded.forEach(d => { d.open = true; });
  });
  addEventListener('afterprint', () => { folded.forEach(d => { d.open = false; }); folded = []; });
})();
