// Read DXF files and print, as JSON, the records of each: one object a line, in order.
#include <cstdio>
#include <string>

#include <dime/Input.h>
#include <dime/Model.h>
#include <dime/entities/Block.h>
#include <dime/entities/Line.h>
#include <dime/entities/Text.h>
#include <dime/objects/Object.h>
#include <dime/records/Record.h>
#include <dime/records/StringRecord.h>
#include <dime/sections/BlocksSection.h>
#include <dime/sections/EntitiesSection.h>
#include <dime/sections/ObjectsSection.h>
#include <dime/sections/TablesSection.h>
#include <dime/tables/Table.h>
#include <dime/tables/TableEntry.h>

static std::string quoted(const char *text) {
  std::string said = "\"";
  for (; text && *text; ++text) {
    if (*text == '"' || *text == '\\') said += '\\';
    said += *text;
  }
  return said + '"';
}

static std::string number(double value) {
  char said[40];
  snprintf(said, sizeof said, "%.9g", value);
  return said;
}

static std::string value_of(dimeRecord *record) {
  dimeParam got;
  record->getValue(got);
  switch (record->typeId()) {
    case dimeBase::dimeStringRecordType:
      return quoted(got.string_data);
    case dimeBase::dimeHexRecordType:
      return quoted(got.hex_data);
    case dimeBase::dimeFloatRecordType:
      return number(got.float_data);
    case dimeBase::dimeDoubleRecordType:
      return number(got.double_data);
    case dimeBase::dimeInt8RecordType:
      return number(got.int8_data);
    case dimeBase::dimeInt16RecordType:
      return number(got.int16_data);
    case dimeBase::dimeInt32RecordType:
      return number(got.int32_data);
  }
  return "null";
}

// A list of pairs of a group code and a value, as the library holds them.
static std::string groups_of(dimeRecordHolder *holder) {
  std::string said;
  for (int i = 0; i < holder->getNumRecordsInRecordHolder(); ++i) {
    dimeRecord *record = holder->getRecordInRecordHolder(i);
    said += (said.empty() ? "" : ",") + ("[" + number(record->getGroupCode())) + "," +
            value_of(record) + "]";
  }
  return "[" + said + "]";
}

static std::string entity(dimeEntity *each) {
  std::string said = "{\"kind\":" + quoted(each->getEntityName()) +
                     ",\"layer\":" + quoted(each->getLayerName()) +
                     ",\"groups\":" + groups_of(each);
  if (each->typeId() == dimeBase::dimeTextType)
    said += ",\"text\":" + quoted(static_cast<dimeText *>(each)->getTextString());
  if (each->typeId() == dimeBase::dimeLineType) {
    said += ",\"ends\":[";
    for (int i = 0; i < 2; ++i) {
      const dimeVec3f &end = static_cast<dimeLine *>(each)->getCoords(i);
      said += (i ? ",[" : "[") + number(end.x) + "," + number(end.y) + "]";
    }
    said += "]";
  }
  return said + "}";
}

template <class Holder>
static std::string entities_of(Holder *holder) {
  std::string said;
  for (int i = 0; i < holder->getNumEntities(); ++i)
    said += (i ? "," : "") + entity(holder->getEntity(i));
  return "[" + said + "]";
}

static std::string tables_of(dimeTablesSection *section) {
  std::string said;
  for (int i = 0; i < section->getNumTables(); ++i) {
    dimeTable *table = section->getTable(i);
    for (int j = 0; j < table->getNumTableEntries(); ++j)
      said += (said.empty() ? "[" : ",[") + quoted(table->tableName()) + "," +
              groups_of(table->getTableEntry(j)) + "]";
  }
  return "[" + said + "]";
}

static std::string blocks_of(dimeBlocksSection *section) {
  std::string said;
  for (int i = 0; i < section->getNumBlocks(); ++i) {
    dimeBlock *block = section->getBlock(i);
    said += (i ? "," : "") + quoted(block->getName()) + ":" + entities_of(block);
  }
  return "{" + said + "}";
}

// The model keeps this section closed, so it is read by itself, from where it begins.
static std::string objects_in(const char *name) {
  dimeInput input;
  dimeObjectsSection section;
  std::string said;
  input.setFile(name);
  for (bool starts = false; !input.eof();) {
    dimeRecord *record = dimeRecord::readRecord(&input);
    if (!record) break;
    dimeParam got;
    record->getValue(got);
    bool is_text = record->typeId() == dimeBase::dimeStringRecordType;
    std::string text = is_text ? got.string_data : "";
    int code = record->getGroupCode();
    delete record;
    if (starts && code == 2 && text == "OBJECTS") {
      section.read(&input);
      break;
    }
    starts = code == 0 && text == "SECTION";
  }
  for (int i = 0; i < section.getNumObjects(); ++i) {
    dimeObject *each = section.getObject(i);
    said += (i ? ",[" : "[") + quoted(each->getObjectName()) + "," + groups_of(each) +
            "]";
  }
  return "[" + said + "]";
}

int main(int count, char **names) {
  for (int i = 1; i < count; ++i) {
    dimeInput input;
    dimeModel model;
    if (!input.setFile(names[i]) || !model.read(&input)) {
      fprintf(stderr, "%s: not read, at line %d\n", names[i], input.getFilePosition());
      return 1;
    }
    auto tables = static_cast<dimeTablesSection *>(model.findSection("TABLES"));
    auto blocks = static_cast<dimeBlocksSection *>(model.findSection("BLOCKS"));
    auto entities = static_cast<dimeEntitiesSection *>(model.findSection("ENTITIES"));
    printf("{\"tables\":%s,\"blocks\":%s,\"entities\":%s,\"objects\":%s}\n",
           tables_of(tables).c_str(), blocks_of(blocks).c_str(),
           entities_of(entities).c_str(), objects_in(names[i]).c_str());
  }
}
