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
        keep(design.dataset.key, stops.filter(t => box(t).checked).map(t => t.dataset.stop));
        show();
      });
    });
    design.querySelector('.clear').addEventListener('click', () => {
      stops.forEach(s => { box(s).checked = false; });
      keep(design.dataset.key, []);
      show();
    });
    show();
  };

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
    large.showModal();
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
})();
