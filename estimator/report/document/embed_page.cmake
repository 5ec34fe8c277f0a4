# Turns files into the C++ strings of report/document/page_files.hpp.
#   cmake -DOUTPUT=FILE -DPAGE_DIR=DIR -DVEGA_DIR=DIR -P embed_page.cmake
# Vega comes from Debian as one file for each module; each is wrapped as a function of its own name, and
# page/modules.js puts them together. Only what the charts need is taken: no maps, trees, forces or word clouds.
set(vega_modules
  vega-util vega-time vega-format vega-loader vega-dataflow vega-canvas vega-scale vega-scenegraph vega-statistics
  vega-transforms vega-view-transforms vega-encode vega-expression vega-selection vega-functions
  vega-event-selector vega-runtime vega-parser vega-view vega-interpreter vega-label)

set(vega "")
foreach(module IN LISTS vega_modules)
  file(READ ${VEGA_DIR}/${module}.min.js text)
  string(REGEX REPLACE "//# sourceMappingURL=[^\n]*\n?" "" text "${text}")
  string(APPEND vega "define_module(\"${module}\", function (exports, require, module) {\n${text}\n});\n")
endforeach()

function(append_string name text)
  # An embedded string that ended the script element or the raw string early would break the page.
  string(FIND "${text}" "</script" script_end)
  string(FIND "${text}" ")page~\"" string_end)
  if(NOT script_end EQUAL -1 OR NOT string_end EQUAL -1)
    message(FATAL_ERROR "${name} contains an end mark")
  endif()
  set(result "${result}const std::string_view ${name} = R\"page~(${text})page~\";\n\n" PARENT_SCOPE)
endfunction()

set(result "// Written by cmake/embed_page.cmake.\n#include \"report/document/page_files.hpp\"\n\nnamespace portweigh::report::page {\n\n")
set(scripts "")
foreach(file format evaluator formula ranking sampling chart_parts charts whatif controls explain page)
  file(READ ${PAGE_DIR}/${file}.js text)
  string(APPEND scripts "${text}\n")
endforeach()
file(READ ${PAGE_DIR}/modules.js modules)
file(READ ${PAGE_DIR}/style.css style)
file(READ ${PAGE_DIR}/vega_notice.txt notice)
append_string(vega "/*\n${notice}*/\n${modules}${vega}")
append_string(style "${style}")
append_string(scripts "${scripts}")
set(result "${result}}  // namespace portweigh::report::page\n")
file(WRITE ${OUTPUT} "${result}")
