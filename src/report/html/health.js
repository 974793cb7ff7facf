// Makes the charts of a health report live: zoom and pan together, values
// under the pointer. Without it every chart stands there as a drawing.
(function () {
  "use strict";
  var holder = document.getElementById("telltale-data");
  if (!holder || typeof Dygraph === "undefined") return;
  var runs = JSON.parse(holder.textContent);
  // Our own readout does its work, and it wants style attributes, which the
  // content policy forbids.
  Dygraph.PLUGINS = Dygraph.PLUGINS.filter(function (plugin) {
    return plugin !== Dygraph.Plugins.Legend;
  });

  function two(n) { return (n < 10 ? "0" : "") + n; }

  function stampOf(run, at) {
    var ahead = run.clock.length ? run.clock[0][1] : 0;
    run.clock.forEach(function (piece) { if (piece[0] <= at) ahead = piece[1]; });
    return run.start + at + ahead;
  }

  function timeText(run, at, step) {
    var ms = stampOf(run, at);
    if (run.elapsed) return "t+" + (ms / 1000).toFixed(step < 1000 ? 1 : 0);
    var d = new Date(ms);
    if (step >= 86400000) {
      return d.getUTCFullYear() + "-" + two(d.getUTCMonth() + 1) + "-" + two(d.getUTCDate());
    }
    var text = two(d.getUTCHours()) + ":" + two(d.getUTCMinutes());
    if (step >= 60000) return text;
    text += ":" + two(d.getUTCSeconds());
    return step >= 1000 ? text : text + "." + Math.floor(d.getUTCMilliseconds() / 100);
  }

  var steps = [100, 200, 500, 1000, 2000, 5000, 10000, 15000, 30000, 60000, 120000, 300000,
    600000, 900000, 1800000, 3600000, 7200000, 10800000, 21600000, 43200000, 86400000,
    172800000, 604800000, 1209600000, 2592000000];

  function ticker(run) {
    return function (from, to, pixels) {
      var wanted = (to - from) / Math.max(2, Math.floor(pixels / 90));
      var step = steps.find(function (s) { return s >= wanted; }) || wanted;
      var zero = stampOf(run, from) - from;
      var out = [];
      for (var at = Math.ceil((from + zero) / step) * step - zero; at <= to; at += step) {
        out.push({v: at, label: timeText(run, at, step)});
      }
      return out;
    };
  }

  // Steps of 1, 2 or 5, as on the drawings; dygraphs' own leave whole charts
  // with a single number.
  function valueTicker(low, high, pixels) {
    var least = (high - low) / Math.max(2, Math.floor(pixels / 36));
    var power = Math.pow(10, Math.floor(Math.log10(least)));
    var lead = [1, 2, 5, 10].find(function (n) { return n * power >= least * 0.999; });
    var step = lead * power;
    var digits = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
    var out = [];
    for (var k = Math.ceil(low / step - 1e-9); k * step <= high; ++k) {
      var value = k * step + 0;  // no minus zero
      out.push({v: value, label: value.toLocaleString("en-US", {
        minimumFractionDigits: digits, maximumFractionDigits: digits,
        useGrouping: Math.abs(value) >= 10000})});
    }
    return out;
  }

  function colour(name) {
    return getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  }

  function Group(run) {
    this.run = run;
    this.graphs = [];
    this.end = run.t[run.t.length - 1] || 1;
    this.window = [0, this.end];
    this.busy = false;
  }
  Group.prototype.show = function (from, to) {
    var least = Math.min(1000, this.end);
    if (to - from < least) to = from + least;
    if (to - from >= this.end) { from = 0; to = this.end; }
    if (from < 0) { to -= from; from = 0; }
    if (to > this.end) { from -= to - this.end; to = this.end; }
    this.window = [from, to];
    this.busy = true;
    this.graphs.forEach(function (g) { g.updateOptions({dateWindow: [from, to]}); });
    this.busy = false;
  };
  Group.prototype.act = function (what) {
    var a = this.window[0], b = this.window[1], w = b - a;
    if (what === "in") this.show(a + w / 4, b - w / 4);
    if (what === "out") this.show(a - w / 2, b + w / 2);
    if (what === "back") this.show(a - w / 2, b - w / 2);
    if (what === "on") this.show(a + w / 2, b + w / 2);
    if (what === "all") this.show(0, this.end);
  };
  Group.prototype.point = function (row) {
    this.graphs.forEach(function (g) {
      if (row === null) g.clearSelection(); else g.setSelection(row);
      g.tell(row);
    });
  };

  function underlay(group, slug) {
    return function (canvas, area, g) {
      function band(from, to, fill, edge) {
        var a = Math.max(g.toDomXCoord(from), area.x);
        var b = Math.min(Math.max(g.toDomXCoord(to), g.toDomXCoord(from) + 2), area.x + area.w);
        if (b <= a) return;
        canvas.fillStyle = fill;
        canvas.fillRect(a, area.y, b - a, area.h);
        if (!edge) return;
        canvas.strokeStyle = edge;
        canvas.strokeRect(a, area.y + 0.5, b - a, area.h - 1);
      }
      canvas.lineWidth = 1;
      group.run.load.forEach(function (s) { band(s[0], s[1], colour("--shade")); });
      group.run.findings.forEach(function (f) {
        var here = f[3] === slug || (f[3] === "" && (slug === "load" || slug === "load_judged"));
        if (!here) return;
        band(f[0], f[1], colour("--window"), colour("--attention"));
        var x = g.toDomXCoord(f[0]);
        if (x < area.x - 1 || x > area.x + area.w - 20) return;
        canvas.fillStyle = colour("--ink");
        canvas.font = "600 12px sans-serif";
        canvas.fillText(f[2], x + 3, area.y + 12);
      });
      canvas.strokeStyle = colour("--soft");
      canvas.setLineDash([1, 3]);
      group.run.steps.forEach(function (at) {
        var x = g.toDomXCoord(at);
        if (x < area.x || x > area.x + area.w) return;
        canvas.beginPath();
        canvas.moveTo(x, area.y);
        canvas.lineTo(x, area.y + area.h);
        canvas.stroke();
      });
      canvas.setLineDash([]);
    };
  }

  function build(figure, group) {
    var run = group.run;
    var slug = figure.getAttribute("data-track");
    var track = run.tracks[slug];
    if (!track || run.t.length < 2) return;
    var hi = track.hi || track.lo;
    // A track read more seldom than others joins its own readings only.
    var rows = run.t.map(function (t, i) {
      var low = Math.min(track.lo[i], hi[i]), high = Math.max(track.lo[i], hi[i]);
      return track.lo[i] === null ? [t, null] : [t, [low, (low + high) / 2, high]];
    });
    var plot = document.createElement("div");
    plot.className = "plot";
    plot.setAttribute("role", "img");
    plot.setAttribute("aria-label", figure.querySelector("title").textContent + ". " +
      figure.querySelector("desc").textContent);
    figure.appendChild(plot);
    var readout = document.createElement("span");
    readout.className = "readout";
    readout.setAttribute("aria-hidden", "true");
    figure.querySelector("figcaption").appendChild(readout);
    figure.classList.add("live");
    var g = new Dygraph(plot, rows, {
      labels: ["time", track.title], customBars: true, fillAlpha: 0.45,
      colors: [colour("--line")], strokeWidth: 1.4, connectSeparatedPoints: true,
      legend: "never", gridLineColor: colour("--rule"), axisLineColor: colour("--soft"),
      highlightCircleSize: 3.5, rightGap: 8, dateWindow: group.window.slice(),
      axes: {
        x: {ticker: ticker(run), pixelsPerLabel: 90, drawGrid: false},
        y: {axisLabelWidth: 52, ticker: valueTicker, valueRange: track.scale || null}
      },
      underlayCallback: underlay(group, slug),
      highlightCallback: function (event, x, points, row) { group.point(row); },
      unhighlightCallback: function () { if (!group.quiet) { group.quiet = true; group.point(null); group.quiet = false; } },
      zoomCallback: function (from, to) { group.show(from, to); },
      drawCallback: function (graph, first) {
        if (first || group.busy) return;
        var w = graph.xAxisRange();
        if (w[0] !== group.window[0] || w[1] !== group.window[1]) group.show(w[0], w[1]);
      }
    });
    g.tell = function (row) {
      if (row === null || track.lo[row] === null || track.lo[row] === undefined) {
        readout.textContent = "";
        return;
      }
      var low = Math.min(track.lo[row], hi[row]), high = Math.max(track.lo[row], hi[row]);
      readout.textContent = timeText(run, run.t[row], 1000) + "  " +
        (low === high ? low : low + " to " + high) + " " + track.unit;
    };
    group.graphs.push(g);
  }

  runs.forEach(function (run) {
    var box = document.querySelector('[data-run="' + run.id + '"]');
    var tools = document.querySelector('[data-tools="' + run.id + '"]');
    if (!box) return;
    var group = new Group(run);
    var figures = Array.prototype.slice.call(box.querySelectorAll("[data-track]"));
    // Charts come alive when they come near: a long report opens at once.
    var watch = new IntersectionObserver(function (entries) {
      entries.forEach(function (entry) {
        if (!entry.isIntersecting) return;
        watch.unobserve(entry.target);
        build(entry.target, group);
      });
    }, {rootMargin: "600px"});
    figures.forEach(function (figure) { watch.observe(figure); });
    if (!tools) return;
    tools.hidden = false;
    tools.addEventListener("click", function (event) {
      var what = event.target.getAttribute("data-do");
      if (what) group.act(what);
    });
  });
}());
