// Light or dark. The framework's own element says it anew with every message from the server, and each
// time every style of the page is worked out again.
export default {
  props: { value: Boolean },
  mounted() { setDark(this.value); },
  watch: { value(now) { setDark(now); } },
};
