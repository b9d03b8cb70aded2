@echo off
rem Starts Lumbrical; in a fresh checkout builds it first.
setlocal
set "home=%~dp0"
if "%home:~-1%"=="\" set "home=%home:~0,-1%"
set "jar=%home%\cli\target\lumbrical.jar"
set "java=java"
if defined JAVA_HOME if exist "%JAVA_HOME%\bin\java.exe" set "java=%JAVA_HOME%\bin\java.exe"
if exist "%jar%" goto start
where mvn >nul 2>nul
if errorlevel 1 (
  echo The program is not built yet and Maven was not found. Install Maven 3.8 or later and run the command again. 1>&2
  exit /b 2
)
echo Building Lumbrical for the first time; this takes a few minutes. 1>&2
call mvn -q -B -f "%home%\pom.xml" -pl cli -am -DskipTests -Dlaunch package 1>&2
if not exist "%jar%" (
  echo The program could not be built. The lines above say why; the first build needs the internet. 1>&2
  exit /b 2
)
:start
"%java%" -XX:+UseSerialGC %LUMBRICAL_JAVA_OPTS% "-Dlumbrical.home=%home%" -jar "%jar%" %*
exit /b %errorlevel%
