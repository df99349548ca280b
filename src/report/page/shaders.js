// The programs of the solid view. The wood is a table of radii; its surface is made from that table alone.

const WOOD_VERTEX = `#version 300 es
precision highp float;
precision highp int;
precision highp usampler2D;
uniform usampler2D wood;
uniform ivec2 size;
uniform ivec2 skip;
uniform vec3 along;
uniform mat4 view;
uniform float slant;
uniform bool cap;
out vec3 place;
out vec2 cell;
const float ROUND = 6.283185307;
void main() {
  float column = 0.0;
  int row;
  float share = 1.0;
  if (cap) {
    row = (gl_VertexID / 3 + (gl_VertexID % 3 == 2 ? 1 : 0)) * skip.y;
    share = gl_VertexID % 3 == 0 ? 0.0 : 1.0;
  } else {
    // Every band leans with the thread, so that its triangles run along the edges of a groove.
    int far = gl_VertexID & 1;
    float lean = slant * float(skip.y);
    column = float((gl_VertexID >> 1) * skip.x) - max(lean, 0.0) + lean * float(far);
    column = clamp(column, 0.0, float(size.x - 1));
    row = (gl_InstanceID + far) * skip.y;
  }
  ivec2 at = ivec2(int(column), row % size.y);
  float a = float(texelFetch(wood, at, 0).r);
  float b = float(texelFetch(wood, ivec2(min(at.x + 1, size.x - 1), at.y), 0).r);
  float r = mix(a, b, fract(column)) * along.z * share;
  float angle = ROUND * float(row) / float(size.y);
  cell = vec2(column, float(row));
  place = vec3(along.x + along.y * column, r * cos(angle), r * sin(angle));
  gl_Position = view * vec4(place, 1.0);
}`;

const WOOD_FRAGMENT = `#version 300 es
precision highp float;
precision highp int;
precision highp usampler2D;
uniform usampler2D wood;
uniform ivec2 size;
uniform vec3 along;
uniform vec3 light, dark;
uniform vec3 eye, key, sky, side;
uniform vec2 depths;
uniform float slant;
uniform bool cap;
in vec3 place;
in vec2 cell;
out vec4 colour;
const float ROUND = 6.283185307;

float texel(int column, int row) {
  row = row < 0 ? row + size.y : row >= size.y ? row - size.y : row;
  return float(texelFetch(wood, ivec2(clamp(column, 0, size.x - 1), row), 0).r);
}
float onRow(float column, int row) {
  float low = floor(column);
  return mix(texel(int(low), row), texel(int(low) + 1, row), column - low);
}
// Between two rows the wood is followed along the thread, so that a groove keeps its edges.
float radius(vec2 at) {
  float low = floor(at.y);
  float part = at.y - low;
  float a = onRow(at.x - slant * part, int(low));
  float b = onRow(at.x + slant * (1.0 - part), int(low) + 1);
  return mix(a, b, part) * along.z;
}
float hash(vec3 p) {
  p = fract(p * vec3(0.1031, 0.1030, 0.0973));
  p += dot(p, p.yxz + 33.33);
  return fract((p.x + p.y) * p.z);
}
float noise(vec3 p) {
  vec3 i = floor(p), f = fract(p);
  f = f * f * (3.0 - 2.0 * f);
  return mix(
    mix(mix(hash(i), hash(i + vec3(1, 0, 0)), f.x), mix(hash(i + vec3(0, 1, 0)), hash(i + vec3(1, 1, 0)), f.x), f.y),
    mix(mix(hash(i + vec3(0, 0, 1)), hash(i + vec3(1, 0, 1)), f.x), mix(hash(i + vec3(0, 1, 1)), hash(i + vec3(1, 1, 1)), f.x), f.y),
    f.z);
}
// Rings about a pith that lies outside the blank, fibres along it.
vec3 grain(vec3 p) {
  vec2 pith = vec2(-58.0, 34.0) + 3.0 * vec2(noise(vec3(p.x * 0.008, 1.0, 2.0)), noise(vec3(p.x * 0.008, 5.0, 7.0)));
  float ring = length(p.yz - pith) / 3.1 + 0.9 * noise(p * vec3(0.012, 0.05, 0.05));
  float late = smoothstep(0.35, 0.95, fract(ring)) * (1.0 - smoothstep(0.95, 1.0, fract(ring)));
  // What is finer than a pixel would only flicker.
  float blur = length(fwidth(p));
  float fibre = (noise(p * vec3(0.18, 2.6, 2.6)) - 0.5) * (1.0 - smoothstep(0.1, 0.4, blur)) * 0.6
    + (noise(p * vec3(0.5, 7.0, 7.0)) - 0.5) * (1.0 - smoothstep(0.03, 0.15, blur)) * 0.4;
  late = mix(late, 0.3, smoothstep(0.6, 1.8, blur));
  return mix(light, dark, 0.75 * late + 0.28 * fibre) * (0.97 + 0.06 * noise(p * vec3(0.02, 0.09, 0.09)));
}
void main() {
  vec3 normal;
  float r = length(place.yz);
  if (cap) {
    normal = vec3(-1.0, 0.0, 0.0);
  } else {
    float ds = (radius(cell + vec2(1, 0)) - radius(cell - vec2(1, 0))) / (2.0 * along.y);
    float da = (radius(cell + vec2(0, 1)) - radius(cell - vec2(0, 1))) / (2.0 * ROUND / float(size.y));
    float angle = ROUND * cell.y / float(size.y);
    vec3 out_ = vec3(0.0, cos(angle), sin(angle)), round_ = vec3(0.0, -sin(angle), cos(angle));
    normal = normalize(out_ - vec3(ds, 0.0, 0.0) - round_ * da / max(r, 0.1));
  }
  vec3 to = normalize(eye - place);
  float open = 0.5 + 0.5 * dot(normal, sky);
  float shade = 0.34 + 0.24 * open + 0.5 * max(dot(normal, key), 0.0) + 0.1 * max(dot(normal, side), 0.0);
  // Light hardly reaches the bottom of a groove.
  float deep = clamp((radius(cell) - depths.x) / max(depths.y - depths.x, 0.001), 0.0, 1.0);
  shade *= cap ? 1.0 : mix(0.62, 1.0, deep);
  float gloss = pow(max(dot(reflect(-key, normal), to), 0.0), 24.0) * 0.07;
  colour = vec4(grain(place) * shade + gloss, 1.0);
}`;

// Solids of revolution: cutter, chuck and centre. A profile of heights and radii is swept round an axis.
const BODY_VERTEX = `#version 300 es
precision highp float;
precision highp int;
uniform vec2 profile[20];
uniform mat4 stand;
uniform mat4 view;
out vec3 normal;
out vec3 place;
const float ROUND = 6.283185307;
void main() {
  vec2 a = profile[gl_InstanceID], b = profile[gl_InstanceID + 1];
  vec2 at = (gl_VertexID & 1) == 0 ? a : b;
  float angle = ROUND * float(gl_VertexID >> 1) / 48.0;
  vec2 way = b - a;
  vec2 out_ = normalize(vec2(way.x, -way.y) + vec2(1e-6, 0.0));
  vec4 p = stand * vec4(at.y * cos(angle), at.x, at.y * sin(angle), 1.0);
  normal = mat3(stand) * vec3(out_.x * cos(angle), out_.y, out_.x * sin(angle));
  place = p.xyz;
  gl_Position = view * p;
}`;

const BODY_FRAGMENT = `#version 300 es
precision highp float;
precision highp int;
uniform vec3 tone;
uniform vec3 eye, key, sky;
in vec3 normal;
in vec3 place;
out vec4 colour;
void main() {
  vec3 to = normalize(eye - place);
  vec3 n = normalize(normal);
  n = dot(n, to) < 0.0 ? -n : n;
  float shade = 0.45 + 0.2 * dot(n, sky) + 0.4 * max(dot(n, key), 0.0);
  float gloss = pow(max(dot(reflect(-key, n), to), 0.0), 30.0) * 0.35;
  colour = vec4(tone * shade + gloss, 1.0);
}`;

const PATH_VERTEX = `#version 300 es
precision highp float;
precision highp int;
uniform mat4 view;
in vec4 point;
out float way;
void main() {
  way = point.w;
  gl_Position = view * vec4(point.xyz, 1.0);
  gl_Position.z -= 0.0004 * gl_Position.w;
}`;

const PATH_FRAGMENT = `#version 300 es
precision highp float;
precision highp int;
uniform vec3 tone;
uniform bool dashed;
in float way;
out vec4 colour;
void main() {
  if (dashed && fract(way / 6.0) > 0.5) discard;
  colour = vec4(tone, 1.0);
}`;
