// Lets a reader zoom into curves over time and read their values. The drawn charts stay for everyone else.
(function () {
  "use strict";
  var font = "12px ReportSans, sans-serif", strip = 16;
  var dark = window.matchMedia ? window.matchMedia("(prefers-color-scheme:dark)") : { matches: false };
  // Colours of methods that a dark card changes, as page.css does for the drawings.
  var onDark = { "#0072B2": "#2e8fcc", "#8A2E6B": "#d07fb5", "#222222": "#e7eae5" };

  function pageColor(name) { return getComputedStyle(document.documentElement).getPropertyValue(name).trim(); }
  function colorOf(s) { return dark.matches && onDark[s.color] || s.color; }

  // Numbers as the rest of the report has them, whatever the browser's own language.
  var point = document.documentElement.getAttribute("data-decimal-mark") || ".";
  function tick(v) { return String(+v.toFixed(6)).replace(".", point); }
  function ticks(u, splits) { return splits.map(tick); }

  function digits(v) {
    if (v === null || v === undefined) { return "not measured"; }
    var a = Math.abs(v);
    return v.toFixed(a >= 100 ? 0 : a >= 10 ? 1 : a >= 1 ? 2 : 3).replace(".", point);
  }

  function make(tag, text, parent) {
    var e = document.createElement(tag);
    e.textContent = text;
    parent.appendChild(e);
    return e;
  }

  function rgba(hex, alpha) {
    var n = parseInt(hex.slice(1), 16);
    return "rgba(" + (n >> 16) + "," + ((n >> 8) & 255) + "," + (n & 255) + "," + alpha + ")";
  }

  // What the plotting library wants: one row of times, then one row a curve.
  function table(d) {
    var count = d.series[0].mean.length, times = [], rows;
    for (var i = 0; i < count; i++) { times.push((d.from + (i + (d.what === "energy" ? 1 : 0.5)) * d.step) / d.perUnit); }
    rows = [times];
    d.series.forEach(function (s) {
      if (s.greatest) { rows.push(s.greatest, s.least); }
      rows.push(s.mean);
    });
    return rows;
  }

  function options(d, host, say) {
    var ink = pageColor("--ink"), grid = pageColor("--rule");
    var series = [{}], bands = [];
    d.series.forEach(function (s) {
      if (s.greatest) {
        var at = series.length;
        series.push({ stroke: "transparent", points: { show: false } }, { stroke: "transparent", points: { show: false } });
        bands.push({ series: [at, at + 1], fill: rgba(colorOf(s), 0.22) });
      }
      series.push({ stroke: colorOf(s), width: 2, points: { show: false } });
    });
    return {
      width: Math.max(260, host.clientWidth - 8),
      height: host.clientWidth > 500 ? 400 : 330,
      padding: [8, 14, 4 + strip * d.series.length, 0],
      legend: { show: false },
      cursor: { drag: { x: true, y: false }, points: { size: 7 } },
      scales: { x: { time: false }, y: { range: function (u, low, high) { return [0, high > 0 ? high * 1.05 : 1]; } } },
      axes: [
        { label: "time since the charge started [" + d.timeUnit + "]", labelSize: 22, labelFont: font, font: font, values: ticks, stroke: ink, grid: { stroke: grid, width: 1 }, size: 34 },
        { label: d.what + " [" + d.unit + "]", labelSize: 22, labelFont: font, font: font, values: ticks, stroke: ink, grid: { stroke: grid, width: 1 }, size: 48 }
      ],
      series: series,
      bands: bands,
      hooks: { draw: [function (u) { strips(u, d); }], setCursor: [function (u) { say(u, u.cursor.idx); }] }
    };
  }

  // A strip a method below the time axis: what it was doing.
  function strips(u, d) {
    var c = u.ctx, r = u.pxRatio || window.devicePixelRatio || 1, left = u.bbox.left, right = left + u.bbox.width;
    c.save();
    c.font = 11 * r + "px ReportSans, sans-serif";
    c.textBaseline = "middle";
    c.textAlign = "center";
    d.series.forEach(function (s, i) {
      var top = c.canvas.height - (strip * (d.series.length - i) + 2) * r, height = (strip - 3) * r;
      s.modes.forEach(function (m) {
        var a = Math.max(left, u.valToPos(m.start / d.perUnit, "x", true)), b = Math.min(right, u.valToPos(m.end / d.perUnit, "x", true));
        if (!(b > a)) { return; }
        c.fillStyle = rgba(colorOf(s), m.strength);
        c.fillRect(a, top, b - a, height);
        if (c.measureText(m.mode).width + 8 * r < b - a) {
          c.fillStyle = dark.matches && m.strength < 0.9 ? pageColor("--ink") : m.text;
          c.fillText(m.mode, (a + b) / 2, top + height / 2);
        }
      });
    });
    c.restore();
  }

  function values(d, s, i) {
    var text = s.name + " " + digits(s.mean[i]) + (s.mean[i] === null ? "" : " " + d.unit);
    return s.greatest && s.greatest[i] !== null && s.least[i] !== null && s.greatest[i] > s.least[i]
      ? text + " (readings " + digits(s.least[i]) + " to " + digits(s.greatest[i]) + ")" : text;
  }

  // Each method behind a square of its colour.
  function show(out, d, start, of) {
    out.textContent = start;
    d.series.forEach(function (s) {
      out.appendChild(document.createTextNode(" "));
      var square = make("span", "\u25a0", out);
      square.style.color = colorOf(s);
      square.setAttribute("aria-hidden", "true");
      out.appendChild(document.createTextNode(" " + of(s)));
    });
  }

  function open(figure, d) {
    var rows = table(d), count = rows[0].length, first = rows[0][0], last = rows[0][count - 1], at = 0;
    var live = document.createElement("div");
    live.className = "live";
    live.tabIndex = 0;
    live.setAttribute("role", "slider");
    live.setAttribute("aria-label", figure.querySelector("figcaption").textContent + ": time; arrow keys move, plus and minus zoom");
    live.setAttribute("aria-valuemin", "0");
    live.setAttribute("aria-valuemax", String(count - 1));
    var out = make("output", "", live);
    out.setAttribute("aria-live", "off");
    figure.insertBefore(live, figure.querySelector(".chart"));
    figure.classList.add("chosen");

    function say(u, i) {
      if (i === null || i === undefined) { return; }
      at = i;
      var time = digits(rows[0][i]) + " " + d.timeUnit + ":";
      show(out, d, time, function (s) { return values(d, s, i); });
      live.setAttribute("aria-valuenow", String(i));
      live.setAttribute("aria-valuetext", time + " " + d.series.map(function (s) { return values(d, s, i); }).join(", "));
    }

    var plot = new uPlot(options(d, live, say), rows, live);
    say(plot, 0);
    show(out, d, "Move over the curves to read values, drag to zoom, double-click for the whole.", function (s) { return s.name; });

    function zoom(factor, shift) {
      var low = plot.scales.x.min, high = plot.scales.x.max, mid = (low + high) / 2 + shift * (high - low), half = Math.min((high - low) / 2 * factor, (last - first) / 2);
      half = Math.max(half, (last - first) / count * 4);
      mid = Math.min(Math.max(mid, first + half), last - half);
      plot.setScale("x", { min: mid - half, max: mid + half });
    }

    function move(by) {
      at = Math.min(Math.max(at + by, 0), count - 1);
      var t = rows[0][at], low = plot.scales.x.min, high = plot.scales.x.max;
      if (t < low || t > high) {
        var half = (high - low) / 2, mid = Math.min(Math.max(t, first + half), last - half);
        plot.setScale("x", { min: mid - half, max: mid + half });
      }
      plot.setCursor({ left: plot.valToPos(t, "x"), top: 10 });
      say(plot, at);
    }

    live.addEventListener("keydown", function (e) {
      var keys = { ArrowLeft: -5, ArrowRight: 5, PageDown: -75, PageUp: 75, Home: -count, End: count };
      if (keys[e.key]) { move(e.shiftKey ? Math.sign(keys[e.key]) : keys[e.key]); e.preventDefault(); }
      if (e.key === "+") { zoom(0.5, 0); }
      if (e.key === "-") { zoom(2, 0); }
    });
    var bar = figure.querySelector(".closer");
    bar.textContent = "";
    [["Closer", 0.5, 0], ["Wider", 2, 0], ["Earlier", 1, -0.5], ["Later", 1, 0.5], ["Whole", 1e9, 0]].forEach(function (b) {
      make("button", b[0], bar).addEventListener("click", function () { zoom(b[1], b[2]); });
    });
    make("button", "Back to the drawing", bar).addEventListener("click", function () {
      plot.destroy();
      live.remove();
      figure.classList.remove("chosen");
      offer(figure, d);
      bar.querySelector("button").focus();
    });
    if (window.ResizeObserver) {
      new ResizeObserver(function () { if (live.clientWidth > 0) { plot.setSize({ width: Math.max(260, live.clientWidth - 8), height: plot.height }); } }).observe(live);
    }
    live.focus({ preventScroll: true });
  }

  function offer(figure, d) {
    var bar = figure.querySelector(".closer");
    if (!bar) {
      bar = document.createElement("div");
      bar.className = "closer";
      figure.insertBefore(bar, figure.querySelector(".chart").nextSibling);
    }
    bar.textContent = "";
    make("button", "Zoom and read values", bar).addEventListener("click", function () { open(figure, d); });
  }

  document.querySelectorAll("script[data-chart]").forEach(function (source) {
    offer(source.parentNode, JSON.parse(source.textContent));
  });
})();
