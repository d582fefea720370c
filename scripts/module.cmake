# The kernel for layout pages, compiled to WebAssembly from the program's own sources (engine/report/live/module.cpp).
# Sets `module` to the file, which is kept packed as `${module}.gz` for the pages, or to nothing where clang, lld or the WebAssembly C++ library is not there: pages are then
# without it.
find_program(TRAMMEL_WASM_COMPILER NAMES clang++)
find_program(TRAMMEL_WASM_LINKER NAMES wasm-ld)
find_program(TRAMMEL_GZIP NAMES gzip)
set(module)
if(TRAMMEL_WASM_COMPILER AND TRAMMEL_WASM_LINKER AND TRAMMEL_GZIP)
  # libc++ has no exceptions there: see math/raise.hpp. Sizes and dead code count, since every layout's page carries it.
  set(module_flags --target=wasm32-wasi -std=c++20 -Os -ffp-contract=off -fno-exceptions -ffunction-sections
    -fdata-sections)
  file(WRITE ${CMAKE_BINARY_DIR}/module/probe.cpp "#include <vector>\nint main() { return std::vector<int>(1)[0]; }\n")
  execute_process(COMMAND ${TRAMMEL_WASM_COMPILER} ${module_flags} probe.cpp -o probe.wasm
    WORKING_DIRECTORY ${CMAKE_BINARY_DIR}/module RESULT_VARIABLE module_missing OUTPUT_QUIET ERROR_QUIET)
  if(NOT module_missing)
    set(module ${CMAKE_BINARY_DIR}/module/kernel.wasm)
  endif()
endif()
if(NOT module)
  message(STATUS "No WebAssembly: clang, lld, wasi-libc, libc++-dev-wasm32 or libclang-rt-dev-wasm32 is missing; "
    "layout pages move what the report computed and do not compute themselves")
  return()
endif()

set(module_view ${CMAKE_BINARY_DIR}/module/view)
file(MAKE_DIRECTORY ${module_view})
foreach(room math tape linkage spring bike brief report)
  file(CREATE_LINK ${CMAKE_SOURCE_DIR}/engine/${room} ${module_view}/${room} SYMBOLIC)
endforeach()
file(CREATE_LINK ${CMAKE_SOURCE_DIR}/objectives ${module_view}/objectives SYMBOLIC)
get_target_property(module_eigen Eigen3::Eigen INTERFACE_INCLUDE_DIRECTORIES)

set(module_sources)
foreach(folder engine/math engine/linkage engine/spring engine/bike objectives objectives/rules)
  file(GLOB found CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/${folder}/*.cpp)
  list(APPEND module_sources ${found})
endforeach()
# What only a search needs: tapes as programs, instruction sets.
list(FILTER module_sources EXCLUDE REGEX "/math/tape|/bike/motion_tapes|/objectives/evaluator")
list(APPEND module_sources ${CMAKE_SOURCE_DIR}/engine/brief/ranges_around.cpp ${CMAKE_SOURCE_DIR}/engine/brief/vary.cpp
     ${CMAKE_SOURCE_DIR}/engine/report/scene.cpp
     ${CMAKE_SOURCE_DIR}/engine/report/frame_sketch.cpp ${CMAKE_SOURCE_DIR}/engine/report/constructions.cpp
     ${CMAKE_SOURCE_DIR}/engine/report/moving_scene.cpp ${CMAKE_SOURCE_DIR}/engine/report/live/module.cpp)
set(module_objects)
foreach(source IN LISTS module_sources)
  file(RELATIVE_PATH name ${CMAKE_SOURCE_DIR} ${source})
  string(REPLACE "/" "_" name ${name})
  set(object ${CMAKE_BINARY_DIR}/module/${name}.o)
  # Small before fast where a page computes a thing once, not at every station.
  set(small)
  if(name MATCHES "^(engine_report|engine_brief|engine_spring|objectives)")
    set(small -Oz)
  endif()
  add_custom_command(OUTPUT ${object}
    COMMAND ${CMAKE_CXX_COMPILER_LAUNCHER} ${TRAMMEL_WASM_COMPILER} ${module_flags} ${small} -I${module_view} -isystem ${module_eigen} -MD -MF
      ${object}.d -c ${source} -o ${object}
    DEPENDS ${source} DEPFILE ${object}.d VERBATIM)
  list(APPEND module_objects ${object})
endforeach()
set(module_exports)
foreach(name space take place compute keep ranges answer)
  list(APPEND module_exports -Wl,--export=trammel_${name})
endforeach()
# A reactor: one that keeps its statics when its start is over.
add_custom_command(OUTPUT ${module} ${module}.gz
  COMMAND ${TRAMMEL_WASM_COMPILER} --target=wasm32-wasi -mexec-model=reactor ${module_objects} -o ${module}
    -Wl,--gc-sections,--strip-all,-O2 ${module_exports}
  COMMAND ${TRAMMEL_GZIP} -9nkf ${module}
  DEPENDS ${module_objects} VERBATIM)
