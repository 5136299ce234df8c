// Read DXF files and print, as JSON, what is in each: one object a file, in order.
const fs = require("fs");
const { Helper } = require("dxf");

function textOf(entity) {
  const text =
    typeof entity.string === "string" ? entity.string : entity.text.string;
  return entity.type === "MTEXT" ? unescaped(text) : text;
}

function unescaped(text) {
  return text.replace(/\\([{}])/g, "$1");
}

function found(file) {
  const text = fs.readFileSync(file, "utf8");
  const { header, blocks, entities, objects, tables } = new Helper(text).parsed;
  const block = Object.fromEntries(blocks.map((each) => [each.name, each]));
  const model = entities.filter((entity) => !entity.paperSpace);
  const inserts = [];
  for (const entity of model) {
    if (entity.type === "INSERT") {
      const outline = block[entity.block].entities.find(
        (each) => each.type === "LWPOLYLINE",
      );
      inserts.push({
        block: entity.block,
        layer: entity.layer,
        outline: outline.vertices.map((v) => [v.x + entity.x, v.y + entity.y]),
        tags: {},
      });
    } else if (entity.type === "ATTRIB") {
      inserts[inserts.length - 1].tags[entity.tag] = textOf(entity);
    }
  }
  const dimensions = model
    .filter((entity) => entity.type === "DIMENSION")
    .map((entity) =>
      block[entity.block].entities.filter((each) => each.type === "TEXT").map(textOf),
    );
  const views = entities.filter(
    (entity) => entity.paperSpace && entity.type === "VIEWPORT" && entity.id !== 1,
  );
  return {
    units: header.insUnits,
    measurement: header.measurement,
    inserts,
    dimensions,
    words: model
      .filter((each) => each.type === "TEXT" || each.type === "MTEXT")
      .map(textOf),
    layers: Object.keys(tables.layers),
    used: [...new Set(entities.map((entity) => entity.layer))],
    layouts: objects.layouts
      .filter((layout) => layout.name !== "Model")
      .map((layout) => [layout.name, layout.maxLimitX, layout.maxLimitY]),
    views: views.map((view) => [view.width, view.height]),
    locked: views.map((view) => (view.flags & 0x4000) !== 0),
    lines: model
      .filter((entity) => entity.type === "LWPOLYLINE")
      .map((entity) => ({
        layer: entity.layer,
        xs: entity.vertices.map((vertex) => vertex.x),
      })),
  };
}

console.log(JSON.stringify(process.argv.slice(2).map(found)));
