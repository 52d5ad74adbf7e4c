// A page, or a part of one, from a tree of [tag, attributes, children]: text stays text, and focus stays where it is.
// Render functions only, so that the page runs without the right to compile code.
import { h } from "vue";

const KNOWN = { field: null, clock: null, trail: null, picture: null, copy: null };
const PLAIN = /^(?:a|abbr|aside|b|br|button|caption|code|col|colgroup|dd|details|div|dl|dt|em|fieldset|figcaption|figure|footer|form|h1|h2|h3|h4|header|hr|i|img|input|label|legend|li|main|math|mfrac|mi|mn|mo|mover|mrow|msqrt|msub|msubsup|msup|mtext|mroot|mspace|mtable|mtd|mtr|nav|ol|optgroup|option|p|progress|section|select|small|span|strong|sub|summary|sup|svg|table|tbody|td|textarea|tfoot|th|thead|time|tr|ul)$/;

function said(seconds) {
  const s = Math.max(0, Math.floor(seconds));
  const d = Math.floor(s / 86400), hours = Math.floor((s % 86400) / 3600), m = Math.floor((s % 3600) / 60);
  const two = (n) => String(n).padStart(2, "0");
  if (d) return `${d} d ${hours} h ${two(m)} min`;
  if (hours) return `${hours} h ${two(m)} min`;
  return `${m}:${two(s % 60)}`;
}

// counts up from a moment or down to one, by the clock of this device set right by the server's
const Clock = {
  props: { from: Number, to: Number, now: Number, past: String },
  data() { return { tick: 0, skew: Date.now() / 1000 - this.now }; },
  watch: { now(v) { this.skew = Date.now() / 1000 - v; } },
  mounted() { this.timer = setInterval(() => this.tick++, 500); },
  unmounted() { clearInterval(this.timer); },
  render() {
    this.tick;
    const now = Date.now() / 1000 - this.skew;
    const left = this.to ? this.to - now : now - this.from;
    const over = this.to && left <= 0;
    return h("time", { class: ["clock", over ? "over" : ""], role: "timer" }, over && this.past ? this.past : said(left));
  },
};

// one value of the job: what it asks for, what was read, what is wrong, and "don't know" where that is an answer
const Field = {
  props: { place: String, label: String, words: String, example: String, value: String, echo: String, error: String,
           choices: Array, unknown: Boolean, mayBeUnknown: Boolean, cost: String, name: String, kind: String, plain: Boolean,
           sent: String,
           reply: Object },
  emits: ["typing", "typed", "unknown", "cost"],
  data() { const said = !!this.sent && this.value === this.sent;  // "don't know" was said in a form that came back
    return { local: said ? "" : this.value || "", given: said, dirty: false, wait: 0 }; },
  watch: { value(v) {
    if (this.sent && v === this.sent) { this.local = ""; this.given = true; this.dirty = false; return; }
    if (v) this.given = false;
    if (!this.dirty || v === this.local) { this.local = v || ""; this.dirty = false; } } },
  computed: {
    id() { return "f-" + (this.name || this.place).replace(/[^A-Za-z0-9]+/g, "-"); },
    shownError() { return this.reply && this.reply.typed === this.local ? this.reply.error : (this.dirty ? "" : this.error); },
    shownEcho() { return this.reply && this.reply.typed === this.local ? this.reply.echo : (this.dirty ? "" : this.echo); },
  },
  methods: {
    say(e) {
      this.given = !this.given; this.local = ""; this.dirty = true;
      clearTimeout(this.wait);
      if (this.given && !this.cost) this.$emit("cost", { name: this.name, form: e.target.closest("form") });
    },
    input(e) {
      this.local = e.target.value; this.dirty = true; this.given = false;
      clearTimeout(this.wait);
      this.wait = setTimeout(() => this.$emit("typing", { place: this.place, name: this.name, text: this.local }), 120);
    },
    done() {
      clearTimeout(this.wait);
      if (this.plain || !this.dirty) return;
      this.$emit("typed", { place: this.place, text: this.local });
    },
    key(e) {
      if (this.plain) return;
      if (e.key === "Enter" && e.target.tagName === "INPUT") { e.preventDefault(); this.done(); }
      if (e.key === "Escape") { this.local = this.value || ""; this.dirty = false; }
    },
  },
  render() {
    const said = this.plain && this.given;
    const about = [this.shownEcho || this.unknown || said ? this.id + "-echo" : "", this.shownError ? this.id + "-error" : "",
                   this.words ? this.id + "-words" : ""].filter(Boolean).join(" ");
    const shared = { id: this.id, name: said && this.sent ? null : this.name || this.place, "aria-describedby": about || null,
                     "aria-invalid": this.shownError ? "true" : null, "data-place": this.place || null,
                     onChange: () => this.done(), onBlur: () => this.done(), onKeydown: (e) => this.key(e) };
    let control;
    if (this.choices && this.choices.length) {
      const none = this.unknown || this.mayBeUnknown || !this.value ? [["", "—"]] : [];
      control = h("select", { ...shared, value: this.local,
        onInput: (e) => { this.local = e.target.value; this.dirty = true; this.given = false; this.$emit("typing", { place: this.place, name: this.name, text: this.local }); } },
        [...none, ...this.choices].map(([v, w]) => h("option", { value: v, selected: v === this.local }, w)));
    } else if (this.kind === "long") {
      control = h("textarea", { ...shared, rows: 3, value: this.local, onInput: (e) => this.input(e) });
    } else {
      control = h("input", { ...shared, type: this.kind || "text", value: this.local, autocomplete: "off", spellcheck: "false",
                             placeholder: said ? "not known" : this.example ? "such as " + this.example : null, onInput: (e) => this.input(e) });
    }
    const unknown = this.mayBeUnknown && !this.plain && !this.unknown
      ? h("button", { type: "button", class: "quiet", "aria-label": `Don't know: ${this.label}`,
                      onClick: () => { this.dirty = false; this.local = ""; this.$emit("unknown", { place: this.place }); } }, "Don't know")
      : this.mayBeUnknown && this.plain
        ? h("button", { type: "button", class: "quiet", "aria-label": `Don't know: ${this.label}`, "aria-pressed": String(said),
                        onClick: (e) => this.say(e) }, "Don't know") : null;
    return h("div", { class: ["field", this.shownError ? "wrong" : "", this.unknown || said ? "unknown" : ""] }, [
      h("label", { for: this.id }, this.label),
      h("div", { class: "control" }, [control, unknown]),
      said && this.sent ? h("input", { type: "hidden", name: this.name, value: this.sent }) : null,
      this.shownError ? h("p", { class: "error", id: this.id + "-error", role: "alert" }, this.shownError) : null,
      this.shownEcho ? h("p", { class: "echo", id: this.id + "-echo", "aria-live": "polite" }, "= " + this.shownEcho)
        : said ? h("p", { class: "echo", id: this.id + "-echo", role: "status" }, "Not known. " + (this.cost || (this.reply && this.reply.cost) || ""))
        : this.unknown && !this.shownError ? h("p", { class: "echo", id: this.id + "-echo" }, this.cost || "not known") : null,
      this.words ? h("p", { class: "words", id: this.id + "-words" }, this.words) : null,
    ]);
  },
};

// where a number comes from, down to what somebody typed or published
const Trail = {
  props: { node: Object, depth: Number },
  render() {
    const n = this.node;
    const head = [n.name ? h("i", { class: "letter" }, n.name + " = ") : null, h("b", { class: "n" }, n.value), " ", h("span", n.what)];
    if (n.equation) head.push(h("code", { class: "equation" }, n.equation));
    if (n.source) head.push(h("small", n.source));
    if (!n.inputs || !n.inputs.length) return h("li", { class: "leaf" }, head);
    return h("li", [h("details", { open: this.depth < 2 }, [h("summary", head),
      h("ul", { class: "trail" }, n.inputs.map((one, i) => h(Trail, { key: i, node: one, depth: this.depth + 1 })))])]);
  },
};

export default {
  props: { tree: Array, replies: Object, tellsSeen: Boolean },
  emits: ["act"],
  mounted() {
    if (!this.tellsSeen) return;
    this.look = () => this.act("seen", document.visibilityState !== "hidden");
    document.addEventListener("visibilitychange", this.look);
    if (document.visibilityState === "hidden") this.look();
    this.thin = matchMedia("(max-width: 760px)");
    this.turned = () => this.act("narrow", this.thin.matches);
    this.thin.addEventListener("change", this.turned);
    if (this.thin.matches) this.turned();
  },
  unmounted() {
    if (!this.look) return;
    document.removeEventListener("visibilitychange", this.look);
    this.thin.removeEventListener("change", this.turned);
  },
  methods: {
    act(name, arg) { this.$emit("act", { name, arg: arg === undefined ? null : arg, values: {} }); },
    values(form) {
      const values = {};
      for (const [key, value] of new FormData(form).entries()) if (typeof value === "string") values[key] = value;
      return values;
    },
    ask({ name, form }) {
      const { act, arg } = form.dataset;
      this.$emit("act", { name: "cost", arg: { form: act, of: JSON.parse(arg), name }, values: this.values(form) });
    },
    submit(e, name, arg) {
      e.preventDefault();
      const values = this.values(e.target);
      this.$emit("act", { name, arg: arg === undefined ? null : arg, values });
    },
    node(one, key) {
      if (one === null || one === undefined) return null;
      if (typeof one === "string" || typeof one === "number") return String(one);
      const [tag, given, children] = one;
      const a = { ...given };
      if (a.key === undefined) a.key = key;
      if (tag === "picture") {
        return h("figure", { key: a.key, class: ["picture", a.class] }, [
          h("div", { class: "drawing", innerHTML: a.svg, onClick: (e) => { const step = e.target.closest("[data-why]"); if (step) this.act("why", step.dataset.why); } }),
          a.caption ? h("figcaption", a.caption) : null]);
      }
      if (tag === "clock") return h(Clock, a);
      if (tag === "trail") return h("ul", { key: a.key, class: "trail" }, [h(Trail, { node: a.node, depth: 0 })]);
      if (tag === "field") {
        const reply = (this.replies || {})[a.name || a.place];
        return h(Field, { ...a, reply, onTyping: (v) => this.act("typing", v), onTyped: (v) => this.act("typed", v),
                          onUnknown: (v) => this.act("unknown", v), onCost: (v) => this.ask(v) });
      }
      if (!PLAIN.test(tag)) return null;
      for (const name of Object.keys(a)) if (/^on/i.test(name) || name === "innerHTML" || name === "srcdoc") delete a[name];
      if (a.href !== undefined && !/^(?:\/(?!\/)|#)/.test(a.href)) delete a.href;
      if (a.act !== undefined) {
        const name = a.act, arg = a.arg; delete a.act; delete a.arg;
        if (tag === "form") { a.onSubmit = (e) => this.submit(e, name, arg); a.novalidate = true; a["data-act"] = name; a["data-arg"] = JSON.stringify(arg === undefined ? null : arg); }
        else if (tag === "select" || tag === "input") a.onChange = (e) => this.act(name, { arg, value: a.type === "checkbox" ? e.target.checked : e.target.value });
        else a.onClick = () => this.act(name, arg);
        if (tag === "button" && !a.type) a.type = "button";
      }
      if (a["aria-current"]) a.onVnodeMounted = (v) => v.el.scrollIntoView({ inline: "center", block: "nearest" });
      if (a.focus) { // "lost": only where what had the focus is gone, so that nobody is pulled away from a field
        const lost = a.focus === "lost"; delete a.focus;
        a.onVnodeMounted = (v) => { if (!lost || document.activeElement === document.body) v.el.focus(); };
      }
      if (tag === "details" && a.told !== undefined) { const told = a.told; delete a.told; a.onToggle = (e) => this.act(told, e.target.open); }
      return h(tag, a, (children || []).map((child, i) => this.node(child, i)));
    },
  },
  render() {
    return h("div", { class: "sheet" }, (this.tree || []).map((one, i) => this.node(one, i)));
  },
};
