// The unit in three dimensions. The server gives where each piece stands and the shapes that the page
// has not yet, the bay's lines and the sizes to show; turning, opening, exploding and cutting through
// happen here.

import { CSS2DObject, CSS2DRenderer, OrbitControls, THREE } from "nicegui-scene";

const VIEWS = {
  corner: [-0.8, 0.62, 1.0],
  face: [0, 0.12, 1],
  side: [-1, 0.12, 0],
  above: [0, 1, 0.001],
};
const SECTIONS = { none: null, across: [0, 0, -1], along: [-1, 0, 0], level: [0, -1, 0] };
const SWING = Math.PI / 180;

function colour(name) {
  return new THREE.Color(
    getComputedStyle(document.documentElement).getPropertyValue(name).trim() || "#888",
  );
}

function bytesOf(text) {
  const told = atob(text);
  const bytes = new Uint8Array(told.length);
  for (let k = 0; k < told.length; k += 1) bytes[k] = told.charCodeAt(k);
  return bytes.buffer;
}

function geometryOf(shape) {
  const corners = new Float32Array(bytesOf(shape.corners));
  const triangles = bytesOf(shape.triangles);
  const places = shape.small ? new Uint16Array(triangles) : new Uint32Array(triangles);
  const geometry = new THREE.BufferGeometry();
  geometry.setAttribute("position", new THREE.BufferAttribute(corners, 3));
  geometry.setIndex(new THREE.BufferAttribute(places, 1));
  return geometry;
}

export default {
  template: `
<section class="viewer" aria-label="The unit in three dimensions" data-model="">
  <div class="viewer-stage" tabindex="0" role="img" :aria-label="label"
       @keydown="key"><canvas></canvas><div class="viewer-labels" aria-hidden="true"></div></div>
  <p class="viewer-empty" v-if="!model">Nothing to show yet.</p>
  <div class="viewer-tools" role="group" aria-label="How the model is shown">
    <div class="viewer-row">
      <button type="button" v-for="each in ['corner','face','side','above']" :key="each"
        @click="look(each)">{{ each }}</button>
      <button type="button" :aria-pressed="allOpen" @click="openAll">{{ allOpen ? 'shut all' : 'open all' }}</button>
    </div>
    <div class="viewer-row">
      <label>Take apart <input type="range" min="0" max="100" step="5" v-model.number="explode" @input="pose"></label>
      <label>Cut through
        <select v-model="section" @change="cutThrough">
          <option value="none">no</option><option value="across">across</option>
          <option value="along">along</option><option value="level">level</option>
        </select></label>
      <label v-if="section !== 'none'">Where <input type="range" min="0" max="100" v-model.number="cutAt" @input="cutThrough"></label>
    </div>
    <div class="viewer-row">
      <button type="button" :aria-pressed="through" @click="through = !through; paint()">see-through</button>
      <button type="button" :aria-pressed="ghost" @click="ghost = !ghost; showGhost()">bay</button>
      <button type="button" v-if="laden" :aria-pressed="load" @click="load = !load; pose()">load</button>
      <button type="button" :aria-pressed="sizes" @click="sizes = !sizes; showSizes()">sizes</button>
    </div>
  </div>
</section>`,
  props: { given: String, number: Number, model: String, lines: Array, dims: Array, picked: String, marked: Array, title: String },
  data() {
    return {
      explode: 0, section: "none", cutAt: 50, through: false, ghost: true, sizes: false,
      allOpen: false, failed: "", load: true, laden: false,
    };
  },
  computed: {
    label() {
      return this.title || "The unit";
    },
  },
  mounted() {
    this.pieces = [];
    this.done = 0;
    this.shapes = new Map();
    this.known = new Map();
    this.motions = new Map();
    this.open = new Map();
    this.start();
  },
  unmounted() {
    this.observer?.disconnect();
    this.renderer?.dispose();
  },
  watch: {
    number() { this.place(); },
    model() { if (!this.model) this.clear(); },
    lines() { this.showGhost(); },
    dims() { this.showSizes(); },
    picked() { this.paint(); },
    marked() { this.paint(); },
  },
  methods: {
    start() {
      const stage = this.$el.querySelector(".viewer-stage");
      try {
        this.renderer = new THREE.WebGLRenderer({
          canvas: stage.querySelector("canvas"), antialias: true, alpha: true,
        });
      } catch {
        this.failed = "no 3D";
        this.$el.dataset.model = "none";
        stage.replaceChildren("This browser draws no 3D; everything else works.");
        return;
      }
      this.renderer.localClippingEnabled = true;
      this.labels = new CSS2DRenderer({ element: stage.querySelector(".viewer-labels") });
      this.scene = new THREE.Scene();
      this.camera = new THREE.PerspectiveCamera(32, 1, 0.02, 60);
      this.scene.add(new THREE.HemisphereLight(0xffffff, 0x8a8478, 2.1));
      const sun = new THREE.DirectionalLight(0xffffff, 1.7);
      sun.position.set(-2, 4, 3);
      this.scene.add(sun);
      this.unit = new THREE.Group();
      this.bay = new THREE.Group();
      this.sizeLines = new THREE.Group();
      this.onDeck = new THREE.Group();
      this.scene.add(this.unit, this.bay, this.sizeLines, this.onDeck);
      this.controls = new OrbitControls(this.camera, stage);
      this.controls.addEventListener("change", () => this.draw());
      stage.addEventListener("pointerdown", (e) => (this.pressed = [e.clientX, e.clientY]));
      stage.addEventListener("pointerup", (e) => this.tap(e));
      this.observer = new ResizeObserver(() => this.fit());
      this.observer.observe(stage);
      window.addEventListener("look-changed", () => { this.paint(); this.showGhost(); this.showSizes(); });
      this.fit();
      this.showGhost();
      this.begin();
    },
    begin() {
      if (window.did_handshake) this.$emit("ready");
      else setTimeout(() => this.begin(), 10); // before that nobody hears it
    },
    // Everything that is handed over has a number; what came already is not done twice.
    place() {
      for (const each of JSON.parse(this.given || "[]")) {
        if (each.number <= this.done) continue;
        this.done = each.number;
        this[each.what](each);
      }
      this.$emit("placed", this.done);
    },
    showScene(given) {
      if (!this.renderer) return;
      this.take(given.fresh);
      this.motions = new Map(given.motions.map((each) => [each.body, each]));
      for (const body of [...this.open.keys()]) if (!this.motions.has(body)) this.open.delete(body);
      const woods = given.woods.map((each) => each.pbrMetallicRoughness);
      this.pieces = given.pieces.map((each) => this.piece(each, woods[each.wood]));
      const kept = new Set(this.pieces);
      for (const [part, piece] of this.known) if (!kept.has(piece)) this.known.delete(part);
      for (const piece of [...this.unit.children]) if (!kept.has(piece)) this.letGo(piece);
      const used = new Set(given.pieces.map((each) => each.shape));
      for (const [number, shape] of this.shapes) {
        if (used.has(number)) continue;
        shape.dispose();
        shape.userData.edges?.dispose();
        this.shapes.delete(number);
      }
      this.showLoad(given.loads ?? [], given.straps ?? []);
      this.inPlace(given.key, given.whole);
      this.pose();
      this.paint();
      this.cutThrough();
      if (!this.looked) this.look("corner");
      this.showSizes();
    },
    cutShapes(given) {
      this.take(given.fresh);
      for (const piece of this.pieces) piece.geometry = this.shapes.get(piece.userData.shape);
      if (this.$el.dataset.model === given.key) this.inPlace(given.key, true);
      this.draw();
    },
    inPlace(key, whole) {
      this.box = new THREE.Box3();
      for (const piece of this.pieces) {
        piece.geometry.boundingBox ?? piece.geometry.computeBoundingBox();
        this.box.union(piece.geometry.boundingBox.clone().applyMatrix4(piece.userData.home));
      }
      for (const each of this.onDeck.children) if (each.isMesh) this.box.expandByObject(each);
      this.$el.dataset.model = key;
      if (whole) this.$el.dataset.whole = key;
      window.dispatchEvent(new CustomEvent("model-in-place", { detail: key }));
      clearTimeout(this.later);
      this.later = setTimeout(() => this.drawEdges(), whole ? 30 : 400);
    },
    take(fresh) {
      for (const [number, shape] of Object.entries(fresh)) {
        this.shapes.get(Number(number))?.userData.edges?.dispose();
        this.shapes.get(Number(number))?.dispose();
        this.shapes.set(Number(number), geometryOf(shape));
      }
    },
    piece(given, wood) {
      let piece = this.known.get(given.part);
      if (!piece) {
        const look = new THREE.MeshStandardMaterial({ flatShading: true, side: THREE.DoubleSide });
        piece = new THREE.Mesh(undefined, look);
        piece.matrixAutoUpdate = false;
        this.known.set(given.part, piece);
        this.unit.add(piece);
      }
      piece.geometry = this.shapes.get(given.shape);
      piece.material.metalness = wood.metallicFactor;
      piece.material.roughness = wood.roughnessFactor;
      piece.userData = {
        part: given.part,
        body: given.body,
        shape: given.shape,
        explode_m: given.away,
        wood: new THREE.Color().setRGB(...wood.baseColorFactor.slice(0, 3)),
        home: new THREE.Matrix4().compose(
          new THREE.Vector3(...given.at),
          new THREE.Quaternion(...given.turn),
          new THREE.Vector3(1, 1, 1),
        ),
      };
      return piece;
    },
    // Cargo, rails and straps: seen, but no pieces, so that nothing of them is picked or opened.
    showLoad(loads, straps) {
      this.laden = loads.length > 0;
      this.emptyDeck();
      for (const each of loads) {
        const low = new THREE.Vector3(...each.from);
        const high = new THREE.Vector3(...each.to);
        const size = high.clone().sub(low);
        const box = new THREE.BoxGeometry(...size.toArray().map(Math.abs));
        const [red, green, blue, opacity] = each.colour;
        const look = new THREE.MeshStandardMaterial({
          color: new THREE.Color().setRGB(red, green, blue), roughness: 0.6, opacity,
          transparent: opacity < 1, depthWrite: opacity === 1,
        });
        const body = new THREE.Mesh(box, look);
        body.position.copy(low).add(high).multiplyScalar(0.5);
        body.add(new THREE.LineSegments(new THREE.EdgesGeometry(box), this.thin("--ghost")));
        this.onDeck.add(body);
        if (each.kind === "cargo") body.add(this.nameOf(each.words, size));
      }
      if (!straps.length) return;
      const points = straps.flat().map((point) => new THREE.Vector3(...point));
      const lines = new THREE.BufferGeometry().setFromPoints(points);
      this.onDeck.add(new THREE.LineSegments(lines, this.thin("--pen")));
    },
    thin(name) {
      return new THREE.LineBasicMaterial({ color: colour(name) });
    },
    nameOf(words, size) {
      const text = document.createElement("span");
      text.className = "viewer-load";
      text.textContent = words;
      const label = new CSS2DObject(text);
      label.position.set(0, Math.abs(size.y) / 2, 0);
      return label;
    },
    emptyDeck() {
      this.onDeck.traverse((each) => {
        each.element?.remove();
        each.geometry?.dispose();
        each.material?.dispose();
      });
      this.onDeck.clear();
    },
    letGo(piece) {
      piece.material.dispose();
      this.unit.remove(piece);
    },
    clear() {
      if (this.onDeck) this.showLoad([], []);
      for (const piece of [...this.unit.children]) this.letGo(piece);
      this.known.clear();
      this.pieces = [];
      this.$el.dataset.model = "";
      this.draw();
    },
    drawEdges() {
      this.pen ??= new THREE.LineBasicMaterial({ color: colour("--pen"), transparent: true, opacity: 0.75 });
      for (const piece of this.pieces) {
        const shape = piece.geometry;
        shape.userData.edges ??= new THREE.EdgesGeometry(shape, 30);
        if (piece.children[0]?.geometry === shape.userData.edges) continue;
        piece.clear();
        const lines = new THREE.LineSegments(shape.userData.edges, this.pen);
        lines.raycast = () => {};
        piece.add(lines);
      }
      this.cutThrough();
    },
    bodyPose(body) {
      const motion = this.motions?.get(body);
      const share = this.open.get(body) ?? 0;
      const matrix = new THREE.Matrix4();
      if (!motion || !share) return matrix;
      const axis = new THREE.Vector3(...motion.axis);
      if (motion.kind === "slide") {
        return matrix.makeTranslation(...axis.multiplyScalar(motion.travel * share).toArray());
      }
      const pivot = new THREE.Vector3(...motion.pivot_m);
      const turn = new THREE.Matrix4().makeRotationAxis(axis.normalize(), motion.travel * share * SWING);
      return matrix
        .makeTranslation(...pivot.toArray())
        .multiply(turn)
        .multiply(new THREE.Matrix4().makeTranslation(...pivot.negate().toArray()));
    },
    pose() {
      const poses = new Map();
      for (const piece of this.pieces) {
        const { body, home, explode_m } = piece.userData;
        if (!poses.has(body)) poses.set(body, this.bodyPose(body));
        piece.matrix.multiplyMatrices(poses.get(body), home);
        if (this.explode && explode_m) {
          const away = explode_m.map((c) => (c * this.explode) / 100);
          piece.matrix.premultiply(new THREE.Matrix4().makeTranslation(...away));
        }
        piece.matrixWorldNeedsUpdate = true;
      }
      this.onDeck.visible = this.load && !this.explode;
      this.draw();
    },
    paint() {
      const marked = new Set(this.marked ?? []);
      const mark = colour("--mark");
      const pick = colour("--pick");
      for (const piece of this.pieces ?? []) {
        const { part, wood } = piece.userData;
        const isPicked = part === this.picked;
        const isMarked = marked.has(part);
        piece.material.color.copy(isPicked ? pick : isMarked ? mark : wood);
        const faint = this.through || (marked.size > 0 && !isMarked && !isPicked);
        piece.material.transparent = faint;
        piece.material.opacity = faint && !isPicked && !isMarked ? 0.22 : 1;
        piece.material.depthWrite = piece.material.opacity === 1;
        piece.material.side = THREE.DoubleSide;
        piece.material.needsUpdate = true;
      }
      this.pen?.color.copy(colour("--pen"));
      this.draw();
    },
    cutThrough() {
      const normal = SECTIONS[this.section];
      let planes = [];
      if (normal && this.box && !this.box.isEmpty()) {
        const direction = new THREE.Vector3(...normal);
        const axis = normal[0] ? "x" : normal[1] ? "y" : "z";
        const at = this.box.min[axis] + ((this.box.max[axis] - this.box.min[axis]) * this.cutAt) / 100;
        planes = [new THREE.Plane(direction, at)];
      }
      for (const piece of this.pieces ?? []) {
        piece.material.clippingPlanes = planes;
        for (const child of piece.children) child.material.clippingPlanes = planes;
      }
      this.onDeck?.traverse((each) => each.material && (each.material.clippingPlanes = planes));
      this.draw();
    },
    lineGroup(group, pairs, name, width = 1) {
      group.traverse((each) => each.geometry?.dispose());
      group.clear();
      if (!pairs.length) return;
      const points = new THREE.BufferGeometry().setFromPoints(
        pairs.flat().map((point) => new THREE.Vector3(...point)),
      );
      const pen = new THREE.LineBasicMaterial({ color: colour(name), linewidth: width });
      group.add(new THREE.LineSegments(points, pen));
    },
    showGhost() {
      if (!this.renderer) return;
      this.lineGroup(this.bay, this.ghost ? this.lines ?? [] : [], "--ghost");
      this.draw();
    },
    showSizes() {
      if (!this.renderer) return;
      const shown = this.sizes ? this.dims ?? [] : [];
      for (const each of [...this.sizeLines.children]) each.element?.remove();
      this.lineGroup(this.sizeLines, shown.map((each) => [each.from, each.to]), "--pick");
      for (const each of shown) {
        const text = document.createElement("span");
        text.className = "viewer-size";
        text.textContent = each.text;
        const label = new CSS2DObject(text);
        label.position.set(...each.from.map((c, k) => (c + each.to[k]) / 2));
        this.sizeLines.add(label);
      }
      this.draw();
    },
    look(name) {
      this.looked = true;
      if (!this.box || this.box.isEmpty()) return;
      const sphere = this.box.getBoundingSphere(new THREE.Sphere());
      const away = new THREE.Vector3(...VIEWS[name]).normalize();
      const fit = Math.min(this.camera.aspect, 1);
      const distance = (sphere.radius * 1.15) / Math.sin((this.camera.fov * Math.PI) / 360) / fit;
      this.camera.position.copy(sphere.center).addScaledVector(away, distance);
      this.controls.target.copy(sphere.center);
      this.controls.update();
      this.draw();
    },
    toggle(body) {
      if (!this.motions?.has(body)) return;
      const aim = this.open.get(body) ? 0 : 1;
      if (matchMedia("(prefers-reduced-motion: reduce)").matches) {
        this.open.set(body, aim);
        return this.pose();
      }
      const begin = performance.now();
      const step = (now) => {
        const share = Math.min((now - begin) / 220, 1);
        this.open.set(body, aim ? share : 1 - share);
        this.pose();
        if (share < 1) requestAnimationFrame(step);
      };
      requestAnimationFrame(step);
    },
    openAll() {
      this.allOpen = !this.allOpen;
      for (const body of this.motions?.keys() ?? []) this.open.set(body, this.allOpen ? 1 : 0);
      this.pose();
    },
    tap(event) {
      const [x, y] = this.pressed ?? [0, 0];
      if (Math.hypot(event.clientX - x, event.clientY - y) > 6) return;
      const box = this.$el.querySelector("canvas").getBoundingClientRect();
      const at = new THREE.Vector2(
        ((event.clientX - box.left) / box.width) * 2 - 1,
        1 - ((event.clientY - box.top) / box.height) * 2,
      );
      const ray = new THREE.Raycaster();
      ray.setFromCamera(at, this.camera);
      const hit = ray.intersectObjects(this.pieces, false)[0]?.object;
      if (!hit) return this.$emit("pick", { part: "" });
      this.toggle(hit.userData.body);
      this.$emit("pick", { part: hit.userData.part });
    },
    key(event) {
      const turn = { ArrowLeft: [-0.15, 0], ArrowRight: [0.15, 0], ArrowUp: [0, -0.1], ArrowDown: [0, 0.1] }[event.key];
      const zoom = { "+": 0.9, "-": 1.11 }[event.key];
      if (!turn && !zoom) return;
      event.preventDefault();
      const away = this.camera.position.clone().sub(this.controls.target);
      const round = new THREE.Spherical().setFromVector3(away);
      if (turn) {
        round.theta += turn[0];
        round.phi = Math.min(Math.max(round.phi + turn[1], 0.05), Math.PI - 0.05);
      }
      if (zoom) round.radius *= zoom;
      this.camera.position.copy(this.controls.target).add(away.setFromSpherical(round));
      this.controls.update();
      this.draw();
    },
    fit() {
      if (!this.renderer) return;
      const stage = this.$el.querySelector(".viewer-stage");
      const { clientWidth: width, clientHeight: height } = stage;
      if (!width || !height) return;
      this.renderer.setPixelRatio(Math.min(window.devicePixelRatio, 2));
      this.renderer.setSize(width, height, false);
      this.labels.setSize(width, height);
      this.camera.aspect = width / height;
      this.camera.updateProjectionMatrix();
      if (this.box && !this.fitted) this.look("corner");
      this.fitted = Boolean(this.box);
      this.draw();
    },
    draw() {
      if (this.waiting || !this.renderer) return;
      this.waiting = requestAnimationFrame(() => {
        this.waiting = 0;
        if (!this.$el.offsetParent) return;
        this.renderer.render(this.scene, this.camera);
        this.labels.render(this.scene, this.camera);
      });
    },
  },
};
