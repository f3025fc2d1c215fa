#include "engine/file/circuit_file.h"

#include <gtest/gtest.h>

#include <cmath>

#include "engine/file/json.h"
#include "engine/solver/simulation.h"

namespace tiepoint {
namespace {

std::string file_with(const std::string& elements, const std::string& rest = "") {
  return R"({"tiepoint":"circuit","version":1,"elements":[)" + elements + "]" + (rest.empty() ? "" : "," + rest) + "}";
}

const char* const kSupply = R"({"name":"V1","kind":"voltage-source","nodes":["in","0"],"voltage":5})";
const char* const kLoad = R"({"name":"R1","kind":"resistor","nodes":["in","0"],"resistance":"4k7"})";

std::string with_load(const std::string& rest = "") { return file_with(std::string(kSupply) + "," + kLoad, rest); }

Error error_of(const std::string& text) {
  const Result<CircuitFile> file = read_circuit(text);
  EXPECT_FALSE(file.ok()) << text;
  return file.ok() ? Error{} : file.error();
}

TEST(CircuitFile, ReadsElementsAndSolvesThem) {
  const Result<CircuitFile> file = read_circuit(R"({
    "tiepoint": "circuit", "version": 1, "title": "a lamp in the stairwell",
    "models": {"red": {"kind": "diode", "saturation_current": 1e-18, "emission": 2}},
    "elements": [
      {"name": "V1", "kind": "voltage-source", "nodes": ["in", "0"], "voltage": 5},
      {"name": "R1", "kind": "resistor", "nodes": ["in", "a"], "resistance": "220R"},
      {"name": "D1", "kind": "diode", "nodes": {"cathode": "0", "anode": "a"}, "model": "red"}
    ],
    "probes": [{"name": "at the lamp", "voltage": "a"}, {"name": "drop", "voltage": ["in", "a"]},
               {"name": "i", "current": "R1"}, {"name": "p", "power": "V1"}]
  })");
  ASSERT_TRUE(file.ok()) << text(file.error());
  EXPECT_EQ(file->title, "a lamp in the stairwell");
  const Solution s = solve_operating_point(file->circuit, file->options);
  ASSERT_TRUE(s.ok());
  EXPECT_NEAR(value_of(file->probes[0], file->circuit, s), 1.92220567493, 1e-8);
  EXPECT_NEAR(value_of(file->probes[1], file->circuit, s), 5 - 1.92220567493, 1e-8);
  EXPECT_NEAR(value_of(file->probes[2], file->circuit, s), 0.0139899742048, 1e-10);
  EXPECT_NEAR(value_of(file->probes[3], file->circuit, s), -5 * 0.0139899742048, 1e-9);
}

TEST(CircuitFile, ModelMayStandInTheElementAndTheElementsOwnValueWins) {
  const Result<CircuitFile> file = read_circuit(
      file_with(std::string(kSupply) +
                    R"(,{"name":"D1","kind":"diode","nodes":["in","a"],"model":{"saturation_current":1e-18,"emission":2}},
      {"name":"D2","kind":"diode","nodes":["a","b"],"model":"red","emission":1.5},{"name":"R1","kind":"resistor","nodes":["b","0"],"resistance":100})",
                R"("models":{"red":{"kind":"diode","saturation_current":1e-18,"emission":2}})"));
  ASSERT_TRUE(file.ok()) << text(file.error());
  EXPECT_EQ(file->circuit.values(file->circuit.elements[1])[1], 2);
  EXPECT_EQ(file->circuit.values(file->circuit.elements[2])[1], 1.5);
  EXPECT_EQ(file->circuit.values(file->circuit.elements[2])[0], 1e-18);
}

TEST(CircuitFile, WithoutProbesEverythingIsShown) {
  const Result<CircuitFile> file =
      read_circuit(file_with(R"({"name":"in","kind":"voltage-source","nodes":["in","0"],"voltage":5})"));
  ASSERT_TRUE(file.ok());
  ASSERT_EQ(file->probes.size(), 2u);
  EXPECT_EQ(file->probes[0].name, "in");
  EXPECT_EQ(file->probes[1].name, "in current");  // a node and an element of one name
}

TEST(CircuitFile, InitialConditionsAndTime) {
  const Result<CircuitFile> file =
      read_circuit(file_with(R"({"name":"C1","kind":"capacitor","nodes":["a","0"],"capacitance":"100u"},
      {"name":"R1","kind":"resistor","nodes":["a","0"],"resistance":"10k"})",
                             R"("initial":{"C1":5},"time":{"for":2,"sample":"10m"},"accuracy":1e-5)"));
  ASSERT_TRUE(file.ok()) << text(file.error());
  EXPECT_TRUE(file->from_initial_conditions);
  EXPECT_EQ(file->duration, 2);
  EXPECT_EQ(file->sample, 0.01);
  EXPECT_EQ(file->options.relative_tolerance, 1e-5);
  Simulation simulation(file->circuit, file->options);
  simulation.start_from_initial_conditions();
  simulation.advance(1);
  EXPECT_NEAR(value_of(file->probes[0], file->circuit, simulation.solution()), 5 * std::exp(-1.0), 1e-4);
}

TEST(CircuitFile, StartMayBeSaid) {
  EXPECT_TRUE(read_circuit(with_load(R"("time":{"for":1,"start":"initial"})"))->from_initial_conditions);
  EXPECT_FALSE(read_circuit(with_load(R"("time":{"for":1})"))->from_initial_conditions);
  EXPECT_EQ(error_of(with_load(R"("time":{"start":"warm"})")).pointer, "/time/start");
}

TEST(CircuitFile, SourcesHaveWaveforms) {
  const Result<CircuitFile> file = read_circuit(
      file_with(R"({"name":"V1","kind":"voltage-source","nodes":["a","0"],"waveform":"sine","amplitude":10,"frequency":50},
      {"name":"R1","kind":"resistor","nodes":["a","0"],"resistance":1})"));
  ASSERT_TRUE(file.ok()) << text(file.error());
  Simulation simulation(file->circuit);
  simulation.settle();
  simulation.advance(0.005);
  EXPECT_NEAR(value_of(file->probes[0], file->circuit, simulation.solution()), 10, 1e-9);
  EXPECT_EQ(error_of(file_with(R"({"name":"V1","kind":"voltage-source","nodes":["a","0"],"waveform":"sine","amplitude":10})"))
                .expected,
            "\"frequency\"");
  EXPECT_EQ(error_of(file_with(R"({"name":"V1","kind":"voltage-source","nodes":["a","0"],"waveform":"wobble"})")).pointer,
            "/elements/0/waveform");
}

TEST(CircuitFile, SwitchesTakeTrueAndFalse) {
  const Result<CircuitFile> file = read_circuit(file_with(
      std::string(kSupply) +
      R"(,{"name":"S1","kind":"timed-switch","nodes":["in","a"],"starts_closed":true},{"name":"R1","kind":"resistor","nodes":["a","0"],"resistance":100})"));
  ASSERT_TRUE(file.ok()) << text(file.error());
  EXPECT_NEAR(solve_operating_point(file->circuit).node_voltage[2], 5, 1e-6);
}

struct Bad {
  std::string text;
  Code code;
  std::string pointer;
};

TEST(CircuitFile, EveryMistakeHasItsPlace) {
  const std::string v = kSupply;
  const std::vector<Bad> list = {
      {R"({"tiepoint":"board","version":1})", Code::kWrongFile, "/tiepoint"},
      {R"({"version":1})", Code::kMissingKey, ""},
      {R"({"tiepoint":"circuit","version":2,"elements":[]})", Code::kNewerVersion, "/version"},
      {R"({"tiepoint":"circuit","version":1})", Code::kMissingKey, ""},
      {R"([])", Code::kWrongType, ""},
      {with_load(R"("colour":1)"), Code::kUnknownKey, "/colour"},
      {file_with("5"), Code::kWrongType, "/elements/0"},
      {file_with(v + R"(,{"name":"R1","kind":"resister","nodes":["in","0"],"resistance":1})"), Code::kUnknownKind,
       "/elements/1/kind"},
      {file_with(v + R"(,{"name":"R1","kind":"resistor","nodes":["in"],"resistance":1})"), Code::kBadValue,
       "/elements/1/nodes"},
      {file_with(v + R"(,{"name":"R1","kind":"resistor","nodes":["in",0],"resistance":1})"), Code::kWrongType,
       "/elements/1/nodes/1"},
      {file_with(v + R"(,{"name":"R1","kind":"resistor","nodes":{"p":"in","q":"0"},"resistance":1})"), Code::kUnknownKey,
       "/elements/1/nodes/q"},
      {file_with(v + R"(,{"name":"R1","kind":"resistor","nodes":["in","0"]})"), Code::kMissingKey, "/elements/1"},
      {file_with(v + R"(,{"name":"R1","kind":"resistor","nodes":["in","0"],"resistance":0})"), Code::kBadValue,
       "/elements/1/resistance"},
      {file_with(v + R"(,{"name":"R1","kind":"resistor","nodes":["in","0"],"resistance":"4q7"})"), Code::kBadValue,
       "/elements/1/resistance"},
      {file_with(v + R"(,{"name":"R1","kind":"resistor","nodes":["in","0"],"resistance":null})"), Code::kWrongType,
       "/elements/1/resistance"},
      {file_with(v + R"(,{"name":"R1","kind":"resistor","nodes":["in","0"],"resistance":1,"size":2})"), Code::kUnknownKey,
       "/elements/1/size"},
      {file_with(v + R"(,{"name":"R1","kind":"resistor","nodes":["in","0"],"resistance":1,"resistance":2})"), Code::kNameTaken,
       "/elements/1/resistance"},
      {file_with(v + "," + v), Code::kNameTaken, "/elements/1/name"},
      {file_with(v + R"(,{"name":"","kind":"resistor","nodes":["in","0"],"resistance":1})"), Code::kBadName,
       "/elements/1/name"},
      {file_with(v + R"(,{"name":"D1","kind":"diode","nodes":["in","0"],"model":"blue"})"), Code::kBadValue,
       "/elements/1/model"},
      {file_with(R"({"name":"R1","kind":"resistor","nodes":["a","b"],"resistance":1})"), Code::kBadValue, "/elements"},
      {with_load(R"("initial":{"R1":5})"), Code::kUnknownKey, "/initial/R1"},
      {with_load(R"("initial":{"C9":5})"), Code::kUnknownKey, "/initial/C9"},
      {with_load(R"("probes":[{"name":"x","voltage":"nowhere"}])"), Code::kBadValue, "/probes/0/voltage"},
      {with_load(R"("probes":[{"name":"x","current":"R9"}])"), Code::kUnknownPart, "/probes/0/current"},
      {with_load(R"("probes":[{"name":"x"}])"), Code::kBadValue, "/probes/0"},
      {with_load(R"("probes":[{"name":"x","current":"R1","power":"R1"}])"), Code::kBadValue, "/probes/0"},
      {with_load(R"("probes":[{"name":"x","voltage":["in"]}])"), Code::kBadValue, "/probes/0/voltage"},
      {with_load(R"("time":{"for":-1})"), Code::kBadValue, "/time/for"},
      {with_load(R"("time":{"for":1,"sample":1e-12})"), Code::kBadValue, "/time/sample"},
      {with_load(R"("accuracy":2)"), Code::kBadValue, "/accuracy"},
  };
  for (const Bad& bad : list) {
    const Error error = error_of(bad.text);
    EXPECT_EQ(key(error.code), key(bad.code)) << bad.text;
    EXPECT_EQ(error.pointer, bad.pointer) << bad.text;
    EXPECT_FALSE(text(error).empty());
  }
}

TEST(CircuitFile, BrokenJsonHasLineAndColumn) {
  const Error error = error_of("{\n  \"tiepoint\": \"circuit\",\n  \"version\": NaN\n}");
  EXPECT_EQ(error.code, Code::kBadJson);
  EXPECT_EQ(error.line, 3);
  EXPECT_EQ(error.column, 14);
  EXPECT_EQ(error_of("").code, Code::kBadJson);
  EXPECT_EQ(error_of(with_load().substr(0, 60)).code, Code::kBadJson);
}

TEST(CircuitFile, TooLargeIsRefusedUnread) { EXPECT_EQ(error_of(std::string(kLargestFile + 1, ' ')).code, Code::kTooLarge); }

TEST(CircuitFile, MoreElementsThanAllowedAreRefused) {
  std::string elements(2 * (kMostElements + 1) - 1, '5');
  for (size_t k = 1; k < elements.size(); k += 2) elements[k] = ',';
  EXPECT_EQ(error_of(file_with(elements)).code, Code::kTooMany);
}

TEST(CircuitFile, EveryTruncationIsAnErrorAndNoCrash) {
  const std::string whole = with_load(R"("initial":{},"probes":[{"name":"x","voltage":["in","0"]}],"time":{"for":1})");
  ASSERT_TRUE(read_circuit(whole).ok());
  for (size_t length = 0; length < whole.size(); ++length) EXPECT_FALSE(read_circuit(whole.substr(0, length)).ok());
}

}  // namespace
}  // namespace tiepoint
