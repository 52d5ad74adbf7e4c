// The roof from above and from its side, to scale: things are moved by pointer, touch and arrow keys.
// It knows where things are drawn; what they carry comes with the view.
import { h } from "vue";

const ARROW = 52; // length of the largest load arrow [px]
const CATCH = 9; // a dragged thing snaps within [px]
const REACH = 20; // half the side of what can be touched [px]

const N = (v) => Math.round(v * 100) / 100;

export default {
  props: { view: Object, selected: String, catches: Object, step: Object, answered: Number, label: String, frozen: Boolean },
  emits: ["pick", "moving", "moved"],
  data() { return { width: 0, drag: null, near: "", most: 1, waiting: 0, sent: null, held: null, keyTimer: 0, caught: [], put: false }; },
  computed: {
    upright() { return this.width > 0 && this.width < 620; },
    // what part of the roof is seen: [behind from, to, left from, to] in metres
    span() {
      const v = this.view, item = v.items.find((one) => one.place === this.near);
      let parts = [[0, v.length, -v.width / 2, v.width / 2]];
      if (item) parts = [];
      for (const one of item ? [item] : v.items)
        parts.push([one.behind - one.length / 2, one.behind + one.length / 2, one.left - one.width / 2, one.left + one.width / 2]);
      const m = item ? 0.16 : 0.03;
      return [Math.min(...parts.map((p) => p[0])) - m, Math.max(...parts.map((p) => p[1])) + m,
              Math.min(...parts.map((p) => p[2])) - m, Math.max(...parts.map((p) => p[3])) + m];
    },
    mm() { // millimetres a pixel
      const s = this.span, across = this.upright ? s[3] - s[2] : s[1] - s[0];
      return across * 1000 / Math.max(this.width, 200);
    },
    frame() {
      const s = this.span;
      return this.upright ? [-s[3] * 1000, s[0] * 1000, (s[3] - s[2]) * 1000, (s[1] - s[0]) * 1000]
                          : [s[0] * 1000, s[2] * 1000, (s[1] - s[0]) * 1000, (s[3] - s[2]) * 1000];
    },
  },
  watch: {
    view() { if (!this.drag) this.measure(); },
    answered() {
      this.waiting = 0;
      if (this.sent) this.send();
      else if (!this.drag && this.put) { this.held = null; this.put = false; }
    },
  },
  mounted() {
    this.watcher = new ResizeObserver(() => { this.width = this.$el.clientWidth; });
    this.watcher.observe(this.$el);
    this.width = this.$el.clientWidth;
    this.measure();
  },
  unmounted() { this.watcher.disconnect(); clearTimeout(this.keyTimer); },
  methods: {
    measure() { this.most = Math.max(this.view.most_N || 0, 1); },
    at(behind, left) { return this.upright ? [-left * 1000, behind * 1000] : [behind * 1000, left * 1000]; },
    box(one) { // centre and sides on the sheet
      const p = this.at(one.behind, one.left), w = one.length * 1000, d = one.width * 1000;
      return this.upright ? [p[0] - d / 2, p[1] - w / 2, d, w] : [p[0] - w / 2, p[1] - d / 2, w, d];
    },
    placed(one) { // where a thing is while it, or the item that it belongs to, is dragged
      const held = this.held;
      if (!held) return one;
      if (one.place === held.place) return { ...one, behind: held.behind, left: held.left };
      if (one.place.startsWith(held.place + ".mount."))
        return { ...one, behind: one.behind + held.behind - held.was.behind, left: one.left + held.left - held.was.left };
      return one;
    },
    metres(e) {
      const svg = this.$refs.plan, p = new DOMPoint(e.clientX, e.clientY).matrixTransform(svg.getScreenCTM().inverse());
      return this.upright ? [p.y / 1000, -p.x / 1000] : [p.x / 1000, p.y / 1000];
    },
    caughtAt(place, behind, left) {
      const lines = (this.catches || {})[place] || { behind: [], left: [] }, near = CATCH * this.mm / 1000, caught = [];
      const to = (v, of, axis) => {
        let best = null;
        for (const [at, words] of of) if (Math.abs(at - v) < near && (!best || Math.abs(at - v) < Math.abs(best[0] - v))) best = [at, words];
        if (best) caught.push([axis, ...best]);
        return best ? best[0] : v;
      };
      return [to(behind, lines.behind, "behind"), to(left, lines.left, "left"), caught];
    },
    down(e, one) {
      if (this.frozen || (e.button !== undefined && e.button !== 0)) return;
      e.preventDefault(); e.stopPropagation();
      e.currentTarget.setPointerCapture(e.pointerId); e.currentTarget.focus({ preventScroll: true });
      const [behind, left] = this.metres(e);
      this.drag = { place: one.place, off: [behind - one.behind, left - one.left], moved: false, id: e.pointerId };
      this.held = { place: one.place, behind: one.behind, left: one.left, was: { behind: one.behind, left: one.left } };
      this.$emit("pick", one.place);
    },
    move(e) {
      if (!this.drag || e.pointerId !== this.drag.id) return;
      const [b, l] = this.metres(e);
      const free = e.altKey;
      const [behind, left, caught] = free ? [b - this.drag.off[0], l - this.drag.off[1], []]
                                          : this.caughtAt(this.drag.place, b - this.drag.off[0], l - this.drag.off[1]);
      if (!this.drag.moved && Math.hypot(behind - this.held.was.behind, left - this.held.was.left) * 1000 < 3 * this.mm) return;
      this.drag.moved = true; this.caught = caught;
      this.held = { ...this.held, behind, left };
      this.sent = { place: this.drag.place, behind, left };
      this.send();
    },
    send() { // one question at a time; the newest place is asked next
      if (this.waiting && performance.now() - this.waiting < 2000) return;
      if (!this.sent) return;
      this.waiting = performance.now();
      this.$emit("moving", this.sent); this.sent = null;
    },
    up(e) {
      if (!this.drag || e.pointerId !== this.drag.id) return;
      const { moved, place } = this.drag, held = this.held;
      this.drag = null; this.sent = null; this.caught = [];
      if (moved) this.putDown(place, held);
      else this.held = null;
    },
    putDown(place, held) {
      this.sent = null; this.put = true;
      this.$emit("moved", { place, behind: held.behind, left: held.left });
    },
    stop() { if (this.drag || this.held) { clearTimeout(this.keyTimer); this.drag = null; this.sent = null; this.caught = []; this.held = null; this.$emit("moving", { place: "", behind: 0, left: 0 }); } },
    key(e, one) {
      if (e.key === "Escape") return this.stop();
      if (e.key === "Enter" || e.key === " ") { e.preventDefault(); return this.$emit("pick", one.place); }
      const turn = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[e.key];
      if (!turn || this.frozen) return;
      e.preventDefault();
      const far = e.shiftKey ? this.step.fine : this.step.coarse;
      const [db, dl] = this.upright ? [turn[1], -turn[0]] : [turn[0], turn[1]];
      const was = this.held && this.held.place === one.place ? this.held : { place: one.place, behind: one.behind, left: one.left, was: { behind: one.behind, left: one.left } };
      this.held = { ...was, behind: was.behind + db * far, left: was.left + dl * far };
      this.sent = { place: one.place, behind: this.held.behind, left: this.held.left };
      this.send();
      clearTimeout(this.keyTimer);
      this.keyTimer = setTimeout(() => {
        if (this.held && this.held.place === one.place) this.putDown(one.place, this.held);
      }, 450);
    },
    grip(one, words, box, kids, extra) {
      const pad = Math.max(0, REACH * this.mm - Math.min(box[2], box[3]) / 2);
      return h("g", { key: one.place, class: ["thing", extra, this.selected === one.place ? "selected" : ""], tabindex: 0, role: "button",
        "data-place": one.place, "aria-label": words, "aria-pressed": this.selected === one.place ? "true" : "false",
        // a finger on a thing moves the thing, not the page, whatever the browser makes of touch-action in a drawing
        onTouchstart: (e) => { if (!this.frozen) e.preventDefault(); },
        onPointerdown: (e) => this.down(e, one), onPointermove: this.move, onPointerup: this.up, onPointercancel: this.stop,
        onKeydown: (e) => this.key(e, one) },
        [h("rect", { class: "reach", x: box[0] - pad, y: box[1] - pad, width: box[2] + 2 * pad, height: box[3] + 2 * pad }), ...kids]);
    },
    text(x, y, words, size, how) {
      const a = { x: N(x), y: N(y), "font-size": N(size * this.mm), ...how };
      return h("text", a, words);
    },
    // the mark of a foot: its outline filled as far as it is used
    foot(one) {
      const least = 7 * this.mm, b = this.box(one);
      const w = Math.max(b[2], least), d = Math.max(b[3], least), x = b[0] + b[2] / 2 - w / 2, y = b[1] + b[3] / 2 - d / 2;
      const kids = [h("rect", { class: "ground", x, y, width: w, height: d })];
      if (one.use === null || one.level === "none") {
        kids.push(h("line", { class: "dash", x1: x + w * 0.25, x2: x + w * 0.75, y1: y + d / 2, y2: y + d / 2 }));
        kids.push(h("rect", { class: "outline", x, y, width: w, height: d }));
        return { box: [x, y, w, d], kids };
      }
      const share = Math.min(one.use, 1.16), over = one.use > 1;
      const wide = w >= d, fw = wide ? w * share : w, fd = wide ? d : d * share;
      const fill = [over ? "over" : "held", one.level === "inferred" ? "inferred" : ""];
      kids.push(h("rect", { class: ["fill", ...fill], x, y: wide ? y : y + d - fd, width: fw, height: fd }));
      kids.push(h("rect", { class: ["outline", over ? "broken" : ""], x, y, width: w, height: d }));
      return { box: [x, y, w, d], kids };
    },
    arrow(x1, y1, x2, y2, kind, mm = this.mm) {
      const length = Math.hypot(x2 - x1, y2 - y1), head = Math.min(8 * mm, length);
      if (length < 2 * mm) return null;
      const ux = (x2 - x1) / length, uy = (y2 - y1) / length, nx = x2 - ux * head, ny = y2 - uy * head, half = head * 0.42;
      return h("g", { class: ["arrow", kind], "aria-hidden": "true" }, [
        h("line", { x1: N(x1), y1: N(y1), x2: N(nx), y2: N(ny) }),
        h("polygon", { points: `${N(x2)},${N(y2)} ${N(nx - uy * half)},${N(ny + ux * half)} ${N(nx + uy * half)},${N(ny - ux * half)}` })]);
    },
    plan() {
      const v = this.view, mm = this.mm, f = this.frame, marks = [], labels = [];
      const roof = this.box({ behind: v.length / 2, left: 0, length: v.length, width: v.width });
      marks.push(h("rect", { class: "roof", x: roof[0], y: roof[1], width: roof[2], height: roof[3], rx: 60 }));
      const a = this.at(0.02, 0), b = this.at(v.length - 0.02, 0);
      marks.push(h("line", { class: "middle", x1: a[0], y1: a[1], x2: b[0], y2: b[1] }));
      const nose = this.upright ? [b[0], a[1] + 16 * mm, 0] : [roof[0] + 12 * mm, roof[1] + 20 * mm, 0];
      if (this.span[0] < 0.3) marks.push(this.text(nose[0] + (this.upright ? 6 * mm : 0), nose[1], this.upright ? "front ↑" : "← front", 13, { class: "soft" }));
      for (const raw of v.fixtures) {
        const one = this.placed(raw), box = this.box(one);
        marks.push(this.grip(one, `${one.name}, ${one.kind} on the roof, ${one.where}. Arrow keys move it.`, box, [
          h("rect", { class: ["fixture", one.kind], x: box[0], y: box[1], width: box[2], height: box[3], rx: 12 }),
          this.text(box[0] + box[2] / 2, box[1] + box[3] / 2 + 4 * mm, one.name, 11, { class: "soft", "text-anchor": "middle" })], "fix"));
      }
      for (const raw of v.items) {
        const one = this.placed(raw), box = this.box(one);
        const small = Math.min(box[2], box[3]) < 70 * mm;
        const name = small ? null : this.text(box[0] + box[2] / 2, box[1] + box[3] / 2 + 5 * mm, one.name, 14, { class: "name", "text-anchor": "middle" });
        marks.push(this.grip(one, `${one.name}, ${one.where}. Arrow keys move it, with Shift by little.`, box, [
          h("rect", { class: "item", x: box[0], y: box[1], width: box[2], height: box[3] }), name], "whole"));
        if (small) labels.push(this.upright ? this.text(box[0] + box[2] / 2, box[1] - 12 * mm, one.name, 14, { class: "name halo", "text-anchor": "middle" })
          : this.text(box[0] + box[2] / 2, box[1] - 26 * mm, one.name, 14, { class: "name halo", "text-anchor": "middle" }));
      }
      for (const item of v.items) for (const raw of item.mounts) {
        const one = this.placed(raw), mark = this.foot(one), m = mark.box;
        marks.push(this.grip(one, `${one.name} of ${item.name}, ${one.where}. Use ${one.label}, ${one.case}, ${one.pull}. Arrow keys move it, with Shift by little.`, m, mark.kids, one.worst ? "mount worst" : "mount"));
        const k = ARROW * mm / this.most, c = [m[0] + m[2] / 2, m[1] + m[3] / 2];
        const push = this.upright ? [-one.across_N * k, -one.along_N * k] : [-one.along_N * k, one.across_N * k];
        labels.push(this.arrow(c[0], c[1], c[0] + push[0], c[1] + push[1], "push"));
        const side = Math.abs(one.left - item.left) < 1e-4 ? 1 : Math.sign(one.left - item.left);
        const size = one.worst ? 15 : 13, how = { class: ["use halo", one.worst ? "worst" : ""] };
        if (this.upright) labels.push(this.text(side > 0 ? m[0] - 5 * mm : m[0] + m[2] + 5 * mm, c[1] + 5 * mm, one.label, size, { ...how, "text-anchor": side > 0 ? "end" : "start" }));
        else labels.push(this.text(c[0], side > 0 ? m[1] + m[3] + 16 * mm : m[1] - 6 * mm, one.label, size, { ...how, "text-anchor": "middle" }));
      }
      for (const [axis, where] of this.caught.map((c) => [c[0], c[1]])) {
        const p = axis === "behind" ? [this.at(where, -9), this.at(where, 9)] : [this.at(-9, where), this.at(99, where)];
        marks.push(h("line", { class: "catch", x1: p[0][0], y1: p[0][1], x2: p[1][0], y2: p[1][1] }));
      }
      return h("svg", { ref: "plan", class: "plan", viewBox: f.map(N).join(" "), role: "group", "aria-label": this.label, style: { aspectRatio: `${N(f[2])} / ${N(f[3])}` } },
        [h("defs", [h("pattern", { id: "hatch", width: 5 * mm, height: 5 * mm, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
          [h("rect", { class: "ground", width: 5 * mm, height: 5 * mm }), h("line", { class: "hatching", x1: 0, y1: 0, x2: 0, y2: 5 * mm, "stroke-width": 3.4 * mm })])]),
          ...marks, ...labels.filter(Boolean)]);
    },
    // the same roof from its left side: heights to the same scale, pulls upwards, presses downwards
    side() {
      const v = this.view, s = this.span, from = s[0], to = s[1], mm = (to - from) * 1000 / Math.max(this.width, 200);
      const tall = Math.max(0.05, ...v.items.map((one) => one.gap + one.thickness), ...v.fixtures.map((one) => one.height)) * 1000;
      const top = -(tall + (ARROW + 26) * mm), low = 20 * mm, marks = [];
      marks.push(h("path", { class: "roof", d: `M${N(Math.max(0, from) * 1000)} ${N(low * 0.55)}V0H${N(Math.min(v.length, to) * 1000)}V${N(low * 0.55)}` }));
      for (const one of v.fixtures) marks.push(h("rect", { class: "fixture", x: (one.behind - one.length / 2) * 1000, y: -one.height * 1000, width: one.length * 1000, height: one.height * 1000 }));
      const arrows = [], k = ARROW * mm / this.most;
      for (const raw of v.items) {
        const one = this.placed(raw), base = -one.gap * 1000, roofOf = base - one.thickness * 1000;
        for (const fraw of raw.mounts) {
          const foot = this.placed(fraw), w = Math.max(foot.length * 1000, 2 * mm), x = foot.behind * 1000 - w / 2;
          marks.push(h("rect", { class: "leg", x, y: Math.min(base, -2 * mm), width: w, height: Math.max(one.gap * 1000, 2 * mm) }));
          if (foot.pull_N === null || foot.pull_N === undefined) continue;
          const shift = (foot.left >= one.left ? -4 : 4) * mm, cx = foot.behind * 1000 + shift, reach = foot.pull_N * k;
          const start = roofOf - 3 * mm;
          if (foot.pull_N > 0) arrows.push(this.arrow(cx, start, cx, start - reach, "pull", mm));
          else arrows.push(this.arrow(cx, start + Math.max(reach, -ARROW * mm), cx, start, "press", mm));
          const half = 3.7 * mm * foot.pull.length, within = Math.min(Math.max(cx, from * 1000 + half), to * 1000 - half); // of its words, so that none is cut
          if (foot.worst) arrows.push(h("text", { class: "use halo worst", x: N(within), y: N(start - Math.abs(reach) - 8 * mm), "font-size": N(14 * mm), "text-anchor": "middle" }, foot.pull));
        }
        marks.push(h("rect", { class: "item", x: (one.behind - one.length / 2) * 1000, y: roofOf, width: one.length * 1000, height: Math.max(one.thickness * 1000, 2 * mm) }));
      }
      marks.push(h("text", { class: "soft", x: N(Math.max(from, -0.05) * 1000 + 4 * mm), y: N(low * 0.95), "font-size": N(12 * mm) }, "front"));
      const bar = v.scale, x1 = to * 1000 - 8 * mm, x0 = x1 - bar.length * 1000;
      if (bar.length < to - from) marks.push(h("g", { class: "scale" }, [h("path", { d: `M${N(x0)} ${N(low * 0.5)}v${N(6 * mm)}m0 ${N(-3 * mm)}H${N(x1)}m0 ${N(-3 * mm)}v${N(6 * mm)}` }),
        h("text", { class: "soft", x: N(x0 - 6 * mm), y: N(low * 0.95), "font-size": N(12 * mm), "text-anchor": "end" }, bar.words)]));
      const height = low - top;
      return h("svg", { class: "side", viewBox: [from * 1000, top, (to - from) * 1000, height + 2 * mm].map(N).join(" "), role: "img",
        "aria-label": "The roof from its left side, to scale; arrows show how each foot is pulled up or pressed down.",
        style: { aspectRatio: `${N((to - from) * 1000)} / ${N(height + 2 * mm)}` } }, [...marks, ...arrows]);
    },
  },
  render() {
    const v = this.view, many = v.items.length;
    const near = many ? h("div", { class: "near", role: "group", "aria-label": "What part of the roof is seen" }, [
      h("button", { type: "button", "aria-pressed": String(!this.near), onClick: () => { this.near = ""; } }, "Whole roof"),
      ...v.items.map((one) => h("button", { type: "button", "aria-pressed": String(this.near === one.place), onClick: () => { this.near = one.place; } }, `Closer: ${one.name}`))]) : null;
    const caught = this.caught.map((c) => c[2]).join(", ");
    const marks = [["full", "used this far, covered by tests"], ["hatched", "inferred from tests beside it (?)"], ["none", "nothing proven (–)"], ["beyond", "over 100 %"]];
    const key = h("ul", { class: "mark-key", "aria-label": "Key to the feet" }, marks.map(([kind, words]) => h("li", [h("span", { class: "box " + kind, "aria-hidden": "true" }), words])));
    return h("div", { class: "roofview" }, this.width ? [near, this.plan(), this.side(), key, h("p", { class: "caught", "aria-live": "polite" }, caught)] : []);
  },
};
